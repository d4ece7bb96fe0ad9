using System.Security.Cryptography;
using System.Text.Encodings.Web;
using System.Text.Json;
using Handwheel.Jobs.Proving;
using Handwheel.Jobs.Setups;
using Handwheel.Nc;

namespace Handwheel.Jobs.Templates;

/// <summary>The file <c>handwheel-proving/1</c>: strict when read, canonical when written.</summary>
public static class ProvingTemplateFile
{
    public const string Format = "handwheel-proving/1";

    const int TitleMost = 200;
    const int WordsMost = 1000;
    const int StepsMost = 50;

    /// <summary>The phases that a step can be added to, as the file names them.</summary>
    public static readonly IReadOnlyList<string> Phases =
    [
        "ready",
        "airCut",
        "restore",
        "firstCut",
        "firstPiece",
        "release",
    ];

    /// <exception cref="InputFault">The text is not a template, or would loosen a limit; the message names file, line, path, what was found and what was expected.</exception>
    public static ProvingTemplate Read(byte[] json, string fileName)
    {
        var fields = new JsonFields(JsonText.Read(json, fileName), fileName);
        fields.OneOfRequired("format", Format);
        var units = fields.OneOfRequired("units", "inch", "mm") == 0 ? Units.Inch : Units.Millimetre;
        var template = Rules(fields.RequiredObject("rules"), units) with
        {
            ReadyFirst = First(fields),
            Steps = Steps(fields),
            ExtraSteps = Extra(fields),
        };
        fields.End();
        return template;
    }

    static ProvingTemplate Rules(JsonFields fields, Units units)
    {
        var template = new ProvingTemplate
        {
            Units = units,
            SecondPersonAtRestore = fields.YesNo("secondPersonAtRestore") ?? false,
            AirCutWhenSetUpAgain = fields.YesNo("airCutWhenSetUpAgain") ?? false,
            ReleaseByAnotherPerson = fields.YesNo("releaseByAnotherPerson") ?? false,
            FirstCutRapidPercent = fields.Number("firstCutRapidPercent", NumberRange.AboveZero),
            CorrectionLimit = fields.Length("correctionLimit", units, NumberRange.ZeroOrMore),
            HeightTolerance = fields.Length("heightTolerance", units, NumberRange.ZeroOrMore),
        };
        if (template.FirstCutRapidPercent > ShopRulesForProving.MostFirstCutRapidPercent)
            throw Loosens(fields, "firstCutRapidPercent", "25 percent");
        if (template.FirstCutRapidPercent is { } percent && decimal.Round(percent, 1) != percent)
            throw fields.Fault(fields.Required("firstCutRapidPercent"), "at most one decimal, as it is typed");
        var correction = ShopRulesForProving.MostCorrection(units);
        if (template.CorrectionLimit > correction)
            throw Loosens(fields, "correctionLimit", Text(correction, units));
        var height = ShopRulesForProving.MostHeightTolerance(units);
        if (template.HeightTolerance > height)
            throw Loosens(fields, "heightTolerance", Text(height, units));
        fields.End();
        return template;
    }

    static string Text(Length length, Units units) => $"{length.ToRegisterText(units)} {units.Symbol()}";

    static InputFault Loosens(JsonFields fields, string name, string most) =>
        fields.Fault(fields.Required(name), $"{most} or less: a shop may tighten this limit, not loosen it");

    static List<string> First(JsonFields fields)
    {
        var first = new List<string>();
        foreach (var item in fields.List("readyFirst"))
        {
            var name = fields.TextOf(item);
            if (!ReadyOrder.All.Contains(name, StringComparer.Ordinal) || first.Contains(name, StringComparer.Ordinal))
                throw fields.Fault(item, "each at most once of " + string.Join(", ", ReadyOrder.All));
            first.Add(name);
        }
        return first;
    }

    static List<StepWording> Steps(JsonFields fields)
    {
        var steps = new List<StepWording>();
        foreach (var item in fields.List("steps"))
        {
            var step = fields.ObjectOf(item);
            var name = step.RequiredText("step");
            if (StepKinds.Find(name) is not { } kind)
                throw step.Fault(
                    step.Required("step"),
                    Nearest.To(name, StepKinds.All.Select(k => k.Name)) is { } near
                        ? $"a kind of step: did you mean \"{near}\"?"
                        : "a kind of step, such as \"ready.table\""
                );
            if (steps.Exists(s => s.Kind == name))
                throw step.Fault(step.Required("step"), "each kind of step once");
            var title = Short(step, "title", TitleMost);
            if (title.Length > 0 && !kind.TakesTitle)
                throw step.Fault(
                    step.Required("title"),
                    "no title: the step's own holds what the job says, or is a signature. Words can be added to it"
                );
            var photo = step.YesNo("photo") ?? false;
            if (photo && !kind.TakesPhoto)
                throw step.Fault(
                    step.Required("photo"),
                    "false: no photo is asked for after a signature or at the end"
                );
            steps.Add(new(name, title, Short(step, "words", WordsMost), photo));
            step.End();
        }
        return steps;
    }

    static List<ExtraStep> Extra(JsonFields fields)
    {
        var steps = new List<ExtraStep>();
        foreach (var item in fields.List("extraSteps"))
        {
            var step = fields.ObjectOf(item);
            var phase = (Phase)step.OneOfRequired("phase", [.. Phases]);
            var key = step.RequiredText("key");
            if (key.Length > 60 || key.Any(c => c is not ((>= 'a' and <= 'z') or (>= '0' and <= '9') or '-')))
                throw step.Fault(step.Required("key"), "at most 60 lower-case letters, digits and hyphens");
            if (steps.Exists(s => s.Key == key))
                throw step.Fault(step.Required("key"), "each key once");
            step.RequiredText("title");
            var where = Short(step, "where", TitleMost);
            steps.Add(
                new(phase, key, Short(step, "title", TitleMost), Short(step, "why", TitleMost))
                {
                    Where = where.Length > 0 ? where : null,
                    AsksWords = step.YesNo("words") ?? false,
                    Photo = step.YesNo("photo") ?? false,
                }
            );
            step.End();
            if (steps.Count > StepsMost)
                throw fields.Fault(item, "at most 50 steps of the shop's own: nobody reads more");
        }
        return steps;
    }

    static string Short(JsonFields fields, string name, int most)
    {
        var text = fields.Text(name).Trim();
        return text.Length <= most ? text : throw fields.Fault(fields.Required(name), $"at most {most} characters");
    }

    /// <summary>Fields in the order of the format, what is not given left out.</summary>
    public static byte[] Write(ProvingTemplate template)
    {
        using var stream = new MemoryStream();
        var options = new JsonWriterOptions
        {
            Indented = true,
            Encoder = JavaScriptEncoder.UnsafeRelaxedJsonEscaping,
            NewLine = "\n",
        };
        using (var json = new Utf8JsonWriter(stream, options))
        {
            json.WriteStartObject();
            json.WriteString("format", Format);
            json.WriteString("units", template.Units == Units.Inch ? "inch" : "mm");
            json.WriteStartObject("rules");
            json.WriteBoolean("secondPersonAtRestore", template.SecondPersonAtRestore);
            json.WriteBoolean("airCutWhenSetUpAgain", template.AirCutWhenSetUpAgain);
            json.WriteBoolean("releaseByAnotherPerson", template.ReleaseByAnotherPerson);
            Number(json, "firstCutRapidPercent", template.FirstCutRapidPercent);
            Number(json, "correctionLimit", template.CorrectionLimit?.In(template.Units));
            Number(json, "heightTolerance", template.HeightTolerance?.In(template.Units));
            json.WriteEndObject();
            json.WriteStartArray("readyFirst");
            foreach (var name in template.ReadyFirst)
                json.WriteStringValue(name);
            json.WriteEndArray();
            json.WriteStartArray("steps");
            foreach (var step in template.Steps)
                Write(json, step);
            json.WriteEndArray();
            json.WriteStartArray("extraSteps");
            foreach (var step in template.ExtraSteps)
                Write(json, step);
            json.WriteEndArray();
            json.WriteEndObject();
        }
        stream.WriteByte((byte)'\n');
        return stream.ToArray();
    }

    /// <summary>SHA-256 of the canonical text, lower-case hex: tells one version from another.</summary>
    public static string Digest(ProvingTemplate template) => Convert.ToHexStringLower(SHA256.HashData(Write(template)));

    static void Write(Utf8JsonWriter json, StepWording step)
    {
        json.WriteStartObject();
        json.WriteString("step", step.Kind);
        if (step.Title.Length > 0)
            json.WriteString("title", step.Title);
        if (step.Words.Length > 0)
            json.WriteString("words", step.Words);
        if (step.Photo)
            json.WriteBoolean("photo", true);
        json.WriteEndObject();
    }

    static void Write(Utf8JsonWriter json, ExtraStep step)
    {
        json.WriteStartObject();
        json.WriteString("phase", Phases[(int)step.Phase]);
        json.WriteString("key", step.Key);
        json.WriteString("title", step.Title);
        if (step.Where is { } where)
            json.WriteString("where", where);
        if (step.Why.Length > 0)
            json.WriteString("why", step.Why);
        if (step.AsksWords)
            json.WriteBoolean("words", true);
        if (step.Photo)
            json.WriteBoolean("photo", true);
        json.WriteEndObject();
    }

    static void Number(Utf8JsonWriter json, string name, decimal? value)
    {
        if (value is { } number)
            json.WriteNumber(name, number / 1.0000000000000000000000000000m);
    }
}
