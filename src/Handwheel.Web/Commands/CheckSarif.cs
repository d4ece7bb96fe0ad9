using System.Reflection;
using System.Text;
using System.Text.Encodings.Web;
using System.Text.Json;
using Handwheel.Jobs.Checking;
using Handwheel.Jobs.Findings;

namespace Handwheel.Web.Commands;

/// <summary>
/// Findings as SARIF 2.1.0 (OASIS standard): stop is error, check is warning, note is note; what was not checked is a
/// notification of the invocation.
/// </summary>
sealed class CheckSarif
{
    const string Schema = "https://docs.oasis-open.org/sarif/sarif/v2.1.0/errata01/os/schemas/sarif-schema-2.1.0.json";

    readonly Utf8JsonWriter json;
    readonly CheckResult result;
    readonly string main;

    /// <summary>The rules that have a finding, in the order of their ids.</summary>
    readonly List<string> rules;

    /// <summary>The subprogram files that have a finding; their index among the artifacts is one more, the main program is 0.</summary>
    readonly List<string> files;

    CheckSarif(Utf8JsonWriter json, CheckResult result, string path)
    {
        this.json = json;
        this.result = result;
        main = UriOf(path);
        rules = [.. result.Findings.Select(f => f.Id).Distinct(StringComparer.Ordinal).Order(StringComparer.Ordinal)];
        files =
        [
            .. result
                .Findings.Select(f => f.File)
                .OfType<string>()
                .Distinct(StringComparer.Ordinal)
                .Order(StringComparer.Ordinal),
        ];
    }

    public static void Write(TextWriter output, CheckResult result, string path)
    {
        using var stream = new MemoryStream();
        var options = new JsonWriterOptions
        {
            Indented = true,
            Encoder = JavaScriptEncoder.UnsafeRelaxedJsonEscaping,
            NewLine = "\n",
        };
        using (var writer = new Utf8JsonWriter(stream, options))
            new CheckSarif(writer, result, path).Log();
        output.WriteLine(Encoding.UTF8.GetString(stream.ToArray()));
    }

    void Log()
    {
        json.WriteStartObject();
        json.WriteString("$schema", Schema);
        json.WriteString("version", "2.1.0");
        json.WriteStartArray("runs");
        json.WriteStartObject();
        Tool();
        Artifacts();
        Invocation();
        json.WriteString("columnKind", "utf16CodeUnits");
        json.WriteStartArray("results");
        foreach (var finding in result.Findings)
            Result(finding);
        json.WriteEndArray();
        json.WriteEndObject();
        json.WriteEndArray();
        json.WriteEndObject();
    }

    void Tool()
    {
        json.WriteStartObject("tool");
        json.WriteStartObject("driver");
        json.WriteString("name", "Handwheel");
        json.WriteString(
            "version",
            typeof(CheckSarif)
                .Assembly.GetCustomAttribute<AssemblyInformationalVersionAttribute>()!
                .InformationalVersion
        );
        json.WriteStartArray("rules");
        foreach (var rule in rules)
            Rule(FindingPages.Of(rule)!);
        json.WriteEndArray();
        json.WriteEndObject();
        json.WriteEndObject();
    }

    void Rule(FindingPage page)
    {
        json.WriteStartObject();
        json.WriteString("id", page.Id);
        Message("shortDescription", page.Title);
        Message("fullDescription", page.Why);
        Message("help", page.Remedy);
        json.WriteStartObject("defaultConfiguration");
        json.WriteString("level", LevelOf(page.Rule.Level));
        json.WriteEndObject();
        json.WriteEndObject();
    }

    void Artifacts()
    {
        json.WriteStartArray("artifacts");
        json.WriteStartObject();
        json.WriteStartObject("location");
        json.WriteString("uri", main);
        json.WriteEndObject();
        json.WriteNumber("length", result.Program.Bytes);
        json.WriteStartObject("hashes");
        json.WriteString("sha-256", result.Program.Sha256);
        json.WriteEndObject();
        json.WriteEndObject();
        foreach (var file in files)
        {
            json.WriteStartObject();
            json.WriteStartObject("location");
            json.WriteString("uri", UriOf(file));
            json.WriteEndObject();
            json.WriteEndObject();
        }
        json.WriteEndArray();
    }

    void Invocation()
    {
        json.WriteStartArray("invocations");
        json.WriteStartObject();
        json.WriteBoolean("executionSuccessful", true);
        json.WriteStartArray("toolExecutionNotifications");
        foreach (var line in result.NotChecked)
        {
            json.WriteStartObject();
            json.WriteString("level", "note");
            Message("message", "not checked: " + line);
            json.WriteEndObject();
        }
        json.WriteEndArray();
        json.WriteEndObject();
        json.WriteEndArray();
    }

    void Result(Finding finding)
    {
        json.WriteStartObject();
        json.WriteString("ruleId", finding.Id);
        json.WriteNumber("ruleIndex", rules.IndexOf(finding.Id));
        json.WriteString("level", LevelOf(finding.Level));
        Message("message", finding.Remedy.Length > 0 ? finding.Message + " " + finding.Remedy : finding.Message);
        json.WriteStartArray("locations");
        json.WriteStartObject();
        json.WriteStartObject("physicalLocation");
        json.WriteStartObject("artifactLocation");
        json.WriteString("uri", finding.File is { } file ? UriOf(file) : main);
        json.WriteNumber("index", finding.File is { } at ? 1 + files.IndexOf(at) : 0);
        json.WriteEndObject();
        if (finding.Line > 0)
        {
            json.WriteStartObject("region");
            json.WriteNumber("startLine", finding.Line);
            Message("snippet", finding.Block);
            json.WriteEndObject();
        }
        json.WriteEndObject();
        json.WriteEndObject();
        json.WriteEndArray();
        json.WriteStartObject("properties");
        json.WriteString("message", finding.Message);
        json.WriteString("remedy", finding.Remedy);
        if (finding.Tool is { } tool)
            json.WriteNumber("tool", tool);
        json.WriteEndObject();
        json.WriteEndObject();
    }

    static string LevelOf(Level level) =>
        level switch
        {
            Level.Stop => "error",
            Level.Check => "warning",
            _ => "note",
        };

    void Message(string name, string text)
    {
        json.WriteStartObject(name);
        json.WriteString("text", text);
        json.WriteEndObject();
    }

    /// <summary>A URI reference (RFC 3986) from a path: absolute as <c>file:</c>, relative with its parts escaped.</summary>
    static string UriOf(string path)
    {
        if (Path.IsPathFullyQualified(path))
            return new Uri(path).AbsoluteUri;
        var parts = path.Split(Path.DirectorySeparatorChar, Path.AltDirectorySeparatorChar);
        return string.Join('/', parts.Select(Uri.EscapeDataString));
    }
}
