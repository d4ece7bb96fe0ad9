namespace Handwheel.Web.Serving;

/// <summary>
/// The headers of every answer. Scripts come from this server's files alone; styles may stand in the page, since the
/// component library sets them on its elements.
/// </summary>
public static class PageSecurity
{
    public static HeaderPolicyCollection Headers() =>
        new HeaderPolicyCollection()
            .AddFrameOptionsDeny()
            .AddContentTypeOptionsNoSniff()
            .AddReferrerPolicySameOrigin()
            .AddStrictTransportSecurityMaxAge(maxAgeInSeconds: 365 * 24 * 3600)
            .AddCrossOriginOpenerPolicy(o => o.SameOrigin())
            .AddCrossOriginResourcePolicy(o => o.SameOrigin())
            .RemoveServerHeader()
            .AddPermissionsPolicy(p =>
            {
                p.AddCamera().Self();
                p.AddMicrophone().None();
                p.AddGeolocation().None();
                p.AddPayment().None();
                p.AddUsb().None();
            })
            .AddContentSecurityPolicy(p =>
            {
                p.AddDefaultSrc().Self();
                p.AddScriptSrc().Self();
                p.AddStyleSrc().Self().UnsafeInline();
                p.AddImgSrc().Self().Data().Blob();
                p.AddFontSrc().Self();
                p.AddConnectSrc().Self();
                p.AddWorkerSrc().Self();
                p.AddObjectSrc().None();
                p.AddBaseUri().Self();
                p.AddFormAction().Self();
                p.AddFrameAncestors().None();
            });
}
