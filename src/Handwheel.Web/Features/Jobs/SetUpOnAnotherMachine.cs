using System.Text;
using Handwheel.Data;
using Handwheel.Jobs.Proving;
using Handwheel.Jobs.Setups;
using Handwheel.Nc;
using Handwheel.Web.Features.ProveOuts;
using Handwheel.Web.SigningIn;
using Microsoft.EntityFrameworkCore;
using Machine = Handwheel.Data.Machine;

namespace Handwheel.Web.Features.Jobs;

/// <summary>
/// A released program goes to another machine: a new job there, with the setup as it was but for what the machine decides. The values of
/// registers are of the machine where they were read, so none goes along; the setup is a draft until somebody has filled them in.
/// </summary>
public sealed class SetUpOnAnotherMachine(
    ShopWriter writer,
    JobReader jobs,
    MakeJob make,
    ProveOutReader proveOuts,
    IDbContextFactory<HandwheelDb> databases
)
{
    public async Task<Answer<Job>> Run(Actor by, Guid job, Guid machine)
    {
        if (!Policies.Allows(Policies.MakesJobs, by.Roles))
            return new Refusal(RefusedBecause.NotAllowed, "Jobs are made by programmers, setters and supervisors.");
        if (await jobs.Open(job) is not { } from)
            return new Refusal(RefusedBecause.NotThere, "There is no such job.");
        await using var reading = await databases.CreateDbContextAsync();
        if (
            await reading.Machines.AsNoTracking().SingleOrDefaultAsync(m => m.Id == machine && !m.Retired) is not { } on
        )
            return new Refusal(RefusedBecause.NotThere, "There is no such machine in use.");
        if (on.Id == from.Machine.Id)
            return new Refusal(
                RefusedBecause.NotAcceptable,
                $"The job is on {on.Name} already: set it up again there."
            );
        if (await ProvenProgram.Of(reading, proveOuts, from) is not { InUse: true } proven)
            return new Refusal(
                RefusedBecause.NotAcceptable,
                "Its program is not one that was released: make a job from the program instead, and prove it out."
            );
        try
        {
            if (WhyNotIn(from.Setup, on) is { } units)
                return new Refusal(RefusedBecause.NotAcceptable, units);
            var setup = SetupOn(from.Setup, on);
            var file = new Upload("setup.json", SetupFile.Write(setup));
            await jobs.Check(from.Program, from.Subprograms, [], file, setup);
            return await writer.Write<Answer<Job>>(db =>
                make.Store(db, by, on, from.Program, file, from.Subprograms, setup, true, proven.Before.ProveOut)
            );
        }
        catch (InputFault fault)
        {
            return new Refusal(RefusedBecause.NotAcceptable, fault.Message);
        }
    }

    /// <summary>Why a setup cannot be carried over; null: it can.</summary>
    public static string? WhyNotIn(Setup setup, Machine machine)
    {
        var facts = Facts(machine);
        // Every inch is a whole number of the smallest decimals of a millimetre; the other way round lengths would be rounded.
        return facts.Units == setup.Units || facts.Units == Units.Millimetre
            ? null
            : $"{machine.Name} counts in inch, and this setup is in mm, which inches cannot say to the last digit: make a job there from the program, and prove it out.";
    }

    /// <summary>The machine alone, for a comparison with the one where a program was proved.</summary>
    public static Setup Alone(Machine machine) => Facts(machine);

    /// <summary>The setup as it would be on the other machine, without a value of its registers.</summary>
    public static Setup SetupOn(Setup setup, Machine machine)
    {
        var facts = Facts(machine);
        return setup with
        {
            Units = facts.Units,
            Machine = facts.Machine with { Name = machine.Name },
            Parking = facts.Parking,
            CommonOffset = facts.CommonOffset,
            WorkOffsets = setup.WorkOffsets.ToDictionary(o => o.Key, _ => default(Offset)),
            Tools =
            [
                .. setup.Tools.Select(t =>
                    t with
                    {
                        Pocket = null,
                        Length = null,
                        LengthWear = Length.Zero,
                        DiameterValue = null,
                        DiameterWear = Length.Zero,
                    }
                ),
            ],
        };
    }

    static Setup Facts(Machine machine) =>
        SetupFile.Read(Encoding.UTF8.GetBytes(machine.Facts), "the facts of " + machine.Name);
}
