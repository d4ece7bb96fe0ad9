using System.Text.Json;
using System.Text.Json.Serialization;
using Handwheel.Jobs.Proving;
using Handwheel.Nc;

namespace Handwheel.Jobs.Records;

[JsonSourceGenerationOptions(
    PropertyNamingPolicy = JsonKnownNamingPolicy.CamelCase,
    UseStringEnumConverter = true,
    IgnoreReadOnlyProperties = true,
    UnmappedMemberHandling = JsonUnmappedMemberHandling.Disallow,
    AllowOutOfOrderMetadataProperties = true,
    RespectNullableAnnotations = true,
    Converters = [typeof(NanometresConverter)]
)]
[JsonSerializable(typeof(Entry))]
[JsonSerializable(typeof(Act))]
[JsonSerializable(typeof(ProveOutPlan))]
sealed partial class JobsJson : JsonSerializerContext;

/// <summary>A length in stored plans: whole nanometres.</summary>
sealed class NanometresConverter : JsonConverter<Length>
{
    public override Length Read(ref Utf8JsonReader reader, Type typeToConvert, JsonSerializerOptions options) =>
        Length.FromNanometres(reader.GetInt64());

    public override void Write(Utf8JsonWriter writer, Length value, JsonSerializerOptions options) =>
        writer.WriteNumberValue(value.Nanometres);
}
