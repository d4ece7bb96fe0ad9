using Microsoft.JSInterop;

namespace Handwheel.Web.Shell;

/// <summary>
/// What a page at the desk asks after each press, over the same connection: an answer says that the press before it has arrived. Without
/// one the page says that it is not saved.
/// </summary>
public static class Heard
{
    [JSInvokable(nameof(Heard))]
    public static void Answer()
    {
        // That it is called is the answer.
    }
}
