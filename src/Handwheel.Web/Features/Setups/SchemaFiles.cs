using Handwheel.Jobs.Schemas;

namespace Handwheel.Web.Features.Setups;

/// <summary>The published JSON Schemas at <c>/schemas/NAME</c>, for anybody.</summary>
static class SchemaFiles
{
    public static void MapSchemas(this WebApplication app) =>
        app.MapGet(
                "/schemas/{name}",
                (string name) =>
                    SchemaTexts.Find(name) is { } text
                        ? Results.Bytes(text, "application/schema+json")
                        : Results.NotFound()
            )
            .AllowAnonymous();
}
