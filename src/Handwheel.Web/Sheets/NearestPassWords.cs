using Handwheel.Jobs.Checking;

namespace Handwheel.Web.Sheets;

/// <summary>How screen and paper say where a nearest pass is.</summary>
public static class NearestPassWords
{
    public static string Side(NearestPass pass)
    {
        var side = pass.Side switch
        {
            "above" => "above it",
            "beside" => "beside it",
            "edge" => "from its edge",
            _ => "through it",
        };
        return pass.Part == "holder" ? side + ", the tool's holder" : side;
    }
}
