using System.Globalization;
using System.Text;
using System.Text.Json.Nodes;
using Handwheel.Jobs.Proving;
using Handwheel.Jobs.Setups;
using Handwheel.Jobs.Templates;
using Handwheel.Web.Features.Setups;

namespace Handwheel.Web.Features.Templates;

/// <summary>A template as forms: filled from a <c>handwheel-proving/1</c> document, written back as one.</summary>
public sealed class TemplateForm
{
    public static readonly IReadOnlyList<Field> RuleFields =
    [
        new(
            "secondPersonAtRestore",
            "Another person reads the registers at restore and signs",
            FieldKind.YesNo,
            "Empty: no"
        ),
        new(
            "airCutWhenSetUpAgain",
            "A proven program that is set up again is air cut again",
            FieldKind.YesNo,
            "Empty: no"
        ),
        new(
            "releaseByAnotherPerson",
            "The supervisor who releases did none of the steps",
            FieldKind.YesNo,
            "Empty: no"
        ),
        new("firstCutRapidPercent", "Highest rapid override for the first cut, %", Hint: "Empty: 25, the most"),
        new(
            "correctionLimit",
            "Largest first-piece correction that reopens only the measuring",
            Hint: "Empty: 0.020 in or 0.5 mm, the most"
        ),
        new(
            "heightTolerance",
            "How far the tallest thing may measure from what the setup describes",
            Hint: "Empty: 0.040 in or 1 mm, the most"
        ),
    ];

    public static readonly IReadOnlyList<Field> StepFields =
    [
        new("step", "Step", FieldKind.Choice)
        {
            Choices = [.. StepKinds.All.Select(k => k.Name)],
            Said = TemplateWords.Of,
        },
        new("title", "In the shop's words", FieldKind.Text, "Shown large, with the app's own wording below it"),
        new("words", "Words added", FieldKind.Text, "Shown below the step"),
        new("photo", "Photo", FieldKind.YesNo, "A step of its own behind this one"),
    ];

    public static readonly IReadOnlyList<Field> ExtraFields =
    [
        new("phase", "At the end of", FieldKind.Choice)
        {
            Choices = [.. ProvingTemplateFile.Phases],
            Said = TemplateWords.Phase,
        },
        new("title", "Step", FieldKind.Text),
        new("where", "Where to look", FieldKind.Text),
        new("why", "What failure it stops", FieldKind.Text),
        new("words", "Asks for words", FieldKind.YesNo),
        new("photo", "Photo", FieldKind.YesNo),
    ];

    readonly List<string> order;

    public TemplateForm(byte[] template)
    {
        var document = (JsonObject)JsonNode.Parse(template)!;
        Units = (string)document["units"]!;
        Rules = new(RuleFields, document["rules"]?.DeepClone() as JsonObject);
        order = [.. ReadyOrder.With([.. (document["readyFirst"] as JsonArray ?? []).Select(n => n!.ToString())])];
        Steps = [.. Objects(document, "steps").Select(s => new FormPart(StepFields, s))];
        ExtraSteps = [.. Objects(document, "extraSteps").Select(s => new FormPart(ExtraFields, s))];
    }

    /// <summary><c>inch</c> or <c>mm</c>.</summary>
    public string Units { get; set; }
    public FormPart Rules { get; }
    public List<FormPart> Steps { get; }
    public List<FormPart> ExtraSteps { get; }

    /// <summary>The groups of ready, see <see cref="ReadyOrder"/>.</summary>
    public IReadOnlyList<string> Order => order;

    /// <summary>Puts a group of ready one place earlier.</summary>
    public void Earlier(string group)
    {
        var at = order.IndexOf(group);
        if (at > 0)
            (order[at - 1], order[at]) = (order[at], order[at - 1]);
    }

    /// <summary>Null: <paramref name="refusals"/> says what must be put right first.</summary>
    public ProvingTemplate? Write(ICollection<string> refusals)
    {
        var places = new Dictionary<string, (FormPart Part, string Name)>(StringComparer.Ordinal)
        {
            ["rules"] = (Rules, "Rules"),
        };
        var document = new JsonObject
        {
            ["format"] = ProvingTemplateFile.Format,
            ["units"] = Units,
            ["rules"] = Rules.Write("Rules", refusals),
            ["readyFirst"] = order.SequenceEqual(ReadyOrder.All)
                ? new JsonArray()
                : new JsonArray([.. order.Select(o => (JsonNode)JsonValue.Create(o))]),
        };
        Put(document, "steps", Steps.Select(s => (s, TemplateWords.Of(s["step"]))), places, refusals);
        var extra = Put(
            document,
            "extraSteps",
            ExtraSteps.Select(s => (s, "The shop's own step " + s["title"])),
            places,
            refusals
        );
        Keys(extra);
        if (refusals.Count > 0)
            return null;
        try
        {
            return ProvingTemplateFile.Read(Encoding.UTF8.GetBytes(document.ToJsonString()), "These rules");
        }
        catch (InputFault fault)
        {
            refusals.Add(InWords(fault, places));
            return null;
        }
    }

    static List<JsonObject> Put(
        JsonObject document,
        string list,
        IEnumerable<(FormPart Part, string Name)> parts,
        Dictionary<string, (FormPart, string)> places,
        ICollection<string> refusals
    )
    {
        var items = new List<JsonObject>();
        foreach (var (part, name) in parts.Where(p => !p.Part.IsEmpty))
        {
            places[$"{list}[{items.Count}]"] = (part, name.TrimEnd());
            items.Add(part.Write(name.TrimEnd(), refusals));
        }
        document[list] = new JsonArray([.. items.Select(i => (JsonNode)i)]);
        return items;
    }

    /// <summary>A step keeps the key that records know it by; a new one gets one from its title.</summary>
    static void Keys(List<JsonObject> steps)
    {
        var taken = steps.Select(s => (string?)s["key"]).OfType<string>().ToHashSet(StringComparer.Ordinal);
        foreach (var step in steps.Where(s => s["key"] is null))
        {
            var words = new string([
                .. ((string?)step["title"] ?? "")
                    .ToLowerInvariant()
                    .Select(c => c is (>= 'a' and <= 'z') or (>= '0' and <= '9') ? c : '-'),
            ]);
            var slug = string.Join('-', words.Split('-', StringSplitOptions.RemoveEmptyEntries).Take(4));
            slug = slug.Length is 0 or > 40 ? "step" : slug;
            var key = slug;
            for (var n = 2; !taken.Add(key); n++)
                key = string.Create(CultureInfo.InvariantCulture, $"{slug}-{n}");
            step["key"] = key;
        }
    }

    /// <summary>Names the row as the form does, and shows the fault beside its field.</summary>
    static string InWords(InputFault fault, Dictionary<string, (FormPart Part, string Name)> places)
    {
        var path = fault.Path ?? "";
        var end = path.IndexOf(']', StringComparison.Ordinal) + 1;
        var head = end > 0 ? path[..end] : path.Split('.')[0];
        if (!places.TryGetValue(head, out var place))
            return fault.Message;
        var field = place.Part.Refuse(path[head.Length..].TrimStart('.'), fault.Says);
        return $"{place.Name}{(field is null ? "" : ", " + field)}: {fault.Says}";
    }

    static IEnumerable<JsonObject> Objects(JsonObject document, string name) =>
        (document[name] as JsonArray ?? []).OfType<JsonObject>().Select(o => (JsonObject)o.DeepClone());
}
