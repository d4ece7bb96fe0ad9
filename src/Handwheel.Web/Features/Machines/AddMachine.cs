using System.Text;
using Handwheel.Data;
using Handwheel.Jobs.Proving;
using Handwheel.Jobs.Setups;
using Handwheel.Web.SigningIn;
using Microsoft.EntityFrameworkCore;
using Machine = Handwheel.Data.Machine;

namespace Handwheel.Web.Features.Machines;

/// <summary>A supervisor or administrator adds a machine to the shop.</summary>
public sealed class AddMachine(ShopWriter writer)
{
    /// <param name="facts">See <see cref="Machine.Facts"/>.</param>
    public async Task<Answer<Machine>> Run(Actor by, string name, string facts, string note = "")
    {
        if (!Policies.Allows(Policies.Supervises, by.Roles))
            return new Refusal(RefusedBecause.NotAllowed, "Only a supervisor or an administrator adds a machine.");
        if (WhyNot(name, facts) is { } wrong)
            return new Refusal(RefusedBecause.NotAcceptable, wrong);
        var machine = new Machine
        {
            Name = name.Trim(),
            Facts = facts,
            Note = note.Trim(),
        };
        return await writer.Write<Answer<Machine>>(async db =>
        {
            if (await db.Machines.AnyAsync(m => m.Name == machine.Name))
                return new Refusal(RefusedBecause.NotAcceptable, $"There is a machine {machine.Name} already.");
            db.Machines.Add(machine);
            db.News.Add(new News(Machine: machine.Id));
            await db.SaveChangesAsync();
            return machine;
        });
    }

    internal static string? WhyNot(string name, string facts)
    {
        if (name.Trim().Length is 0 or > 60)
            return "A machine's name has 1 to 60 characters: type what is written on it.";
        try
        {
            SetupFile.Read(Encoding.UTF8.GetBytes(facts), "the facts of " + name.Trim());
            return null;
        }
        catch (InputFault fault)
        {
            return fault.Message;
        }
    }
}
