using Handwheel.Data;
using Handwheel.Jobs.Proving;
using Handwheel.Jobs.Readings;
using Handwheel.Nc;
using Handwheel.Web.Features.ProveOuts;
using Handwheel.Web.SigningIn;
using Microsoft.EntityFrameworkCore;
using Place = Handwheel.Web.SigningIn.Place;

namespace Handwheel.Web.Features.Machines;

/// <summary>
/// A register of a machine read outside of a prove-out. A hazard goes when the reading is what the register should hold;
/// a supervisor may sign that it was rewritten for another job, and what was read is then what it should hold.
/// </summary>
public sealed class ReadRegister(ShopWriter writer, SecretCheck secrets, TimeProvider time)
{
    /// <param name="pin">For a supervisor's statement; null: no statement is made.</param>
    public async Task<Answer<LedgerReading>> Run(
        Actor by,
        Place place,
        Guid machine,
        Register register,
        string typed,
        string? pin = null
    )
    {
        var statement = pin is not null;
        if (!Policies.Allows(Policies.ProvesOut, by.Roles))
            return new Refusal(
                RefusedBecause.NotAllowed,
                Said.In("Reading registers is for operators, setters and supervisors.")
            );
        if (statement && !by.Has(Roles.Supervisor))
            return new Refusal(
                RefusedBecause.NotAllowed,
                Said.In("Only a supervisor signs that a register was rewritten.")
            );
        if (statement && (await secrets.Pin(by.Person, pin!, place)).Refused is { } wrong)
            return wrong;
        return await writer.Write<Answer<LedgerReading>>(async db =>
        {
            if (!await db.Machines.AnyAsync(m => m.Id == machine))
                return new Refusal(RefusedBecause.NotThere, Said.In("There is no such machine."));
            if (await db.ProveOuts.AnyAsync(p => p.MachineId == machine && p.End == ProveOutEnd.Open))
                return new Refusal(
                    RefusedBecause.NotAcceptable,
                    Said.In("A prove-out is under way on this machine: read the register at its step there.")
                );
            var ledger = await ProveOutReader.LedgerOf(db, machine);
            if (ledger.Last(register) is not { } last)
                return new Refusal(
                    RefusedBecause.NotThere,
                    Said.In($"Nobody has read {register} on this machine yet.")
                );
            if (!TypedNumber.TryReadLength(typed, last.Units, Step(last.Units), out var number, out var refusal))
                return new Refusal(RefusedBecause.NotAcceptable, refusal);
            var reading = ledger.Outside(
                machine,
                register,
                number.In(last.Units),
                typed,
                last.Units,
                by,
                time.GetUtcNow(),
                statement
            );
            db.MachineReadings.Add(MachineReading.From(reading));
            db.News.Add(new News(Machine: machine));
            await db.SaveChangesAsync();
            return reading;
        });
    }

    static Length Step(Units units) => Length.From(units == Units.Inch ? 0.0001m : 0.001m, units);
}
