using Handwheel.Jobs.Setups;

namespace Handwheel.Web.Features.Setups;

/// <summary>What a form that somebody is filling in says at the moment.</summary>
/// <param name="Written">The document that it would write.</param>
/// <param name="Setup">Null: it is none yet.</param>
/// <param name="Why">Which field keeps it from being one, and why; null: it is one.</param>
public sealed record FormSays(ReadOnlyMemory<byte> Written, Setup? Setup, string? Why)
{
    /// <summary>Reads a copy of the form, so that nothing is marked in the one that is being filled in.</summary>
    public static FormSays Of(SetupForm form)
    {
        var copy = form.Copy();
        var refusals = new List<string>();
        var written = copy.Write(refusals);
        if (refusals.Count > 0)
            return new(written, null, refusals[0]);
        try
        {
            return new(written, SetupFile.Read(written, "The form"), null);
        }
        catch (InputFault fault)
        {
            return new(written, null, copy.InWords(fault));
        }
    }
}
