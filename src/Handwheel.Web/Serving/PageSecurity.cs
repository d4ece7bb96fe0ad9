namespace Handwheel.Web.Serving;

/// <summary>
/// The headers of every answer. Scripts come from this server's files alone; styles may stand in the page, since the
/// component library sets them on its elements.
/// </summary>
public static class PageSecurity
{
    /// <param name="httpsAlone">
    /// True: nothing is served over plain HTTP, so a browser may be told never to try it. Otherwise it must not be told: the
    /// rule is kept for a host whatever the port, and would shut the plain page that hands a new tablet the shop's root.
    /// </param>
    public static HeaderPolicyCollection Headers(bool httpsAlone)
    {
        var headers = Headers();
        return httpsAlone ? headers.AddStrictTransportSecurityMaxAge(maxAgeInSeconds: 365 * 24 * 3600) : headers;
    }

    static HeaderPolicyCollection Headers() =>
        new HeaderPolicyCollection()
            .AddFrameOptionsDeny()
            .AddContentTypeOptionsNoSniff()
            .AddReferrerPolicySameOrigin()
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
