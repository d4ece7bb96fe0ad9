using System.Text.Encodings.Web;
using System.Text.Json;
using System.Text.Json.Serialization;
using Handwheel.Jobs.Checking;

namespace Handwheel.Web.Commands;

/// <summary>The document <c>handwheel-check/1</c>: camelCase names, nulls written, figures with at most six decimals.</summary>
static class CheckJson
{
    static readonly CheckJsonContext Context = new(
        new JsonSerializerOptions(CheckJsonContext.Default.Options)
        {
            Encoder = JavaScriptEncoder.UnsafeRelaxedJsonEscaping,
            NewLine = "\n",
        }
    );

    public static void Write(TextWriter output, CheckResult result) =>
        output.WriteLine(JsonSerializer.Serialize(result, Context.CheckResult));
}

[JsonSourceGenerationOptions(
    PropertyNamingPolicy = JsonKnownNamingPolicy.CamelCase,
    DefaultIgnoreCondition = JsonIgnoreCondition.Never,
    WriteIndented = true,
    Converters = [typeof(LevelInJson), typeof(FigureInJson)]
)]
[JsonSerializable(typeof(CheckResult))]
sealed partial class CheckJsonContext : JsonSerializerContext;

sealed class LevelInJson() : JsonStringEnumConverter<Level>(JsonNamingPolicy.CamelCase);

sealed class FigureInJson : JsonConverter<decimal>
{
    public override decimal Read(ref Utf8JsonReader reader, Type typeToConvert, JsonSerializerOptions options) =>
        reader.GetDecimal();

    public override void Write(Utf8JsonWriter writer, decimal value, JsonSerializerOptions options) =>
        writer.WriteNumberValue(Figure.Shortest(value));
}
