using System.Text;
using System.Text.Json;
using System.Text.Json.Nodes;
using Handwheel.Jobs.Setups;
using Handwheel.Web.Features.Setups;

namespace Handwheel.Web.Features.Machines;

/// <summary>The facts of a machine as a form: a setup document without tools and work offsets.</summary>
public sealed class MachineForm
{
    static readonly JsonSerializerOptions Indented = new() { WriteIndented = true };

    public MachineForm(string facts = "{}")
    {
        var document = (JsonObject)JsonNode.Parse(facts)!;
        Units = (string?)document["units"] ?? "";
        Machine = new(SetupFields.Machine, document["machine"]?.DeepClone() as JsonObject);
        Parking = new([SetupFields.Parking], document);
    }

    MachineForm(MachineForm from) => (Units, Machine, Parking) = (from.Units, from.Machine.Copy(), from.Parking.Copy());

    /// <summary>What the form says now, read from a copy: nothing is marked in this one. The name is asked for when it is saved.</summary>
    public FormSays Says()
    {
        var refusals = new List<string>();
        var facts = new MachineForm(this).Write("the machine", refusals);
        if (refusals.Count > 0)
            return new(default, null, refusals[0]);
        var written = Encoding.UTF8.GetBytes(facts);
        return new(written, SetupFile.Read(written, "The form"), null);
    }

    /// <summary><c>inch</c>, <c>mm</c>, or empty: not chosen.</summary>
    public string Units { get; set; }
    public FormPart Machine { get; }
    public FormPart Parking { get; }

    /// <summary>The facts as they are stored; empty when <paramref name="refusals"/> says what must be put right first.</summary>
    public string Write(string name, ICollection<string> refusals)
    {
        if (name.Trim().Length == 0)
            refusals.Add("The machine has no name: type what is written on it");
        if (Units.Length == 0)
            refusals.Add("The unit is not chosen: inch or mm, as the control's registers count");
        var machine = Machine.Write("Machine", refusals);
        machine["name"] = name.Trim();
        var document = Parking.Write("Machine", refusals);
        document["format"] = SetupFile.Format;
        document["units"] = Units;
        document["machine"] = machine;
        document["workOffsets"] = new JsonObject();
        document["tools"] = new JsonArray();
        var facts = document.ToJsonString(Indented);
        if (refusals.Count > 0)
            return "";
        try
        {
            SetupFile.Read(Encoding.UTF8.GetBytes(facts), "This machine");
            return facts;
        }
        catch (InputFault fault)
        {
            refusals.Add(InWords(fault));
            return "";
        }
    }

    /// <summary>Names the field as the form does, and shows the fault beside it.</summary>
    string InWords(InputFault fault)
    {
        const string machine = "machine.";
        var path = fault.Path ?? "";
        var field = path.StartsWith(machine, StringComparison.Ordinal)
            ? Machine.Refuse(path[machine.Length..], fault.Says)
            : Parking.Refuse(path, fault.Says);
        return field is null ? fault.Message : $"{field}: {fault.Says}";
    }
}
