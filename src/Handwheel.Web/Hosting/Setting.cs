namespace Handwheel.Web.Hosting;

/// <summary>A setting of the app by any of its names: <c>--name</c>, <c>Handwheel:Name</c>, <c>HANDWHEEL_NAME</c>.</summary>
static class Setting
{
    /// <param name="name">As in <c>Handwheel:Name</c>.</param>
    /// <param name="variable">What stands behind <c>HANDWHEEL_</c>, where it is not the name in capitals.</param>
    public static string? Of(IConfiguration configuration, string name, string? variable = null) =>
        Array.Find(
            [
                configuration[name.ToLowerInvariant()],
                configuration["Handwheel:" + name],
                configuration["HANDWHEEL_" + (variable ?? name.ToUpperInvariant())],
            ],
            v => !string.IsNullOrWhiteSpace(v)
        );
}
