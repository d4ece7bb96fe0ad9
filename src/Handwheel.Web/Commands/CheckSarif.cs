using System.Reflection;
using System.Text;
using System.Text.Encodings.Web;
using System.Text.Json;
using Handwheel.Jobs.Checking;

namespace Handwheel.Web.Commands;

/// <summary>
/// Findings as SARIF 2.1.0 (OASIS standard): stop is error, check is warning, note is note; what was not checked is a
/// notification of the invocation.
/// </summary>
static class CheckSarif
{
    const string Schema = "https://docs.oasis-open.org/sarif/sarif/v2.1.0/errata01/os/schemas/sarif-schema-2.1.0.json";

    public static void Write(TextWriter output, CheckResult result, string path)
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
            json.WriteString("$schema", Schema);
            json.WriteString("version", "2.1.0");
            json.WriteStartArray("runs");
            Run(json, result, UriOf(path));
            json.WriteEndArray();
            json.WriteEndObject();
        }
        output.WriteLine(Encoding.UTF8.GetString(stream.ToArray()));
    }

    static void Run(Utf8JsonWriter json, CheckResult result, string uri)
    {
        var rules = result
            .Findings.Select(f => f.Id)
            .Distinct(StringComparer.Ordinal)
            .Order(StringComparer.Ordinal)
            .ToList();
        json.WriteStartObject();
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
        {
            json.WriteStartObject();
            json.WriteString("id", rule);
            json.WriteStartObject("shortDescription");
            json.WriteString("text", rule.Replace('-', ' '));
            json.WriteEndObject();
            json.WriteEndObject();
        }
        json.WriteEndArray();
        json.WriteEndObject();
        json.WriteEndObject();
        Artifact(json, result.Program, uri);
        Invocation(json, result);
        json.WriteString("columnKind", "utf16CodeUnits");
        json.WriteStartArray("results");
        foreach (var finding in result.Findings)
            Result(json, finding, rules.IndexOf(finding.Id), uri);
        json.WriteEndArray();
        json.WriteEndObject();
    }

    static void Artifact(Utf8JsonWriter json, ProgramFacts program, string uri)
    {
        json.WriteStartArray("artifacts");
        json.WriteStartObject();
        json.WriteStartObject("location");
        json.WriteString("uri", uri);
        json.WriteEndObject();
        json.WriteNumber("length", program.Bytes);
        json.WriteStartObject("hashes");
        json.WriteString("sha-256", program.Sha256);
        json.WriteEndObject();
        json.WriteEndObject();
        json.WriteEndArray();
    }

    static void Invocation(Utf8JsonWriter json, CheckResult result)
    {
        json.WriteStartArray("invocations");
        json.WriteStartObject();
        json.WriteBoolean("executionSuccessful", true);
        json.WriteStartArray("toolExecutionNotifications");
        foreach (var line in result.NotChecked)
        {
            json.WriteStartObject();
            json.WriteString("level", "note");
            Message(json, "not checked: " + line);
            json.WriteEndObject();
        }
        json.WriteEndArray();
        json.WriteEndObject();
        json.WriteEndArray();
    }

    static void Result(Utf8JsonWriter json, Finding finding, int rule, string uri)
    {
        json.WriteStartObject();
        json.WriteString("ruleId", finding.Id);
        json.WriteNumber("ruleIndex", rule);
        json.WriteString(
            "level",
            finding.Level switch
            {
                Level.Stop => "error",
                Level.Check => "warning",
                _ => "note",
            }
        );
        Message(json, finding.Remedy.Length > 0 ? finding.Message + " " + finding.Remedy : finding.Message);
        json.WriteStartArray("locations");
        json.WriteStartObject();
        json.WriteStartObject("physicalLocation");
        json.WriteStartObject("artifactLocation");
        json.WriteString("uri", uri);
        json.WriteNumber("index", 0);
        json.WriteEndObject();
        if (finding.Line > 0)
        {
            json.WriteStartObject("region");
            json.WriteNumber("startLine", finding.Line);
            json.WriteStartObject("snippet");
            json.WriteString("text", finding.Block);
            json.WriteEndObject();
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

    static void Message(Utf8JsonWriter json, string text)
    {
        json.WriteStartObject("message");
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
