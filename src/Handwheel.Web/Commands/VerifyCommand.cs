using System.CommandLine;
using System.Globalization;
using System.Security.Cryptography;
using System.Security.Cryptography.X509Certificates;
using Handwheel.Jobs.Records;
using Handwheel.Jobs.Setups;
using Handwheel.Web.Sheets;

namespace Handwheel.Web.Commands;

/// <summary><c>handwheel verify</c>: is a record as it was signed, and by whom.</summary>
static class VerifyCommand
{
    const long BytesMost = 256L * 1024 * 1024;

    public static Command Make(Screen screen)
    {
        var file = new Argument<string>("FILE") { Description = "A record, as PDF or JSON." };
        var trust = new Option<string>("--trust")
        {
            Description = "The shop's root certificate; the signer must come from it.",
            HelpName = "ROOT.pem",
        };
        var command = new Command("verify") { file, trust };
        command.SetAction(parsed =>
        {
            var path = parsed.GetRequiredValue(file);
            using var root = parsed.GetValue(trust) is { } pem ? Root(pem) : null;
            var result = RecordFile.Verify(InputFiles.Read(path, BytesMost, "a record"), path, root);
            Say(screen, path, result);
            return result is { Intact: true, SignerConfirmed: not false } ? CommandLine.Done : CommandLine.DoneWithStop;
        });
        return command;
    }

    static X509Certificate2 Root(string path)
    {
        var bytes = InputFiles.Read(path, 1024 * 1024, "a certificate");
        try
        {
            return X509CertificateLoader.LoadCertificate(bytes);
        }
        catch (CryptographicException fault)
        {
            throw new InputFault(
                $"{path}: found no certificate, expected the shop's root certificate as PEM or DER",
                fault
            );
        }
    }

    static void Say(Screen screen, string path, VerifyResult result)
    {
        var valid = result is { Intact: true, SignerConfirmed: not false };
        screen.Out.WriteLine($"{path}: {(valid ? screen.Bold(result.Verdict) : screen.Red(result.Verdict))}");
        if (result.FirstBrokenEntry is { } entry)
            screen.Out.WriteLine(string.Create(CultureInfo.InvariantCulture, $"First entry that is broken: {entry}."));
        foreach (var passed in result.Passed)
            screen.Out.WriteLine("  " + passed);
        if (!result.Intact)
            return;
        screen.Out.WriteLine(
            $"Signed by {result.SignedBy}{(result.Made is { } made ? ", " + RecordText.When(made, "") : "")}."
        );
        foreach (var seen in result.Signatures)
            screen.Out.WriteLine(
                string.Create(
                    CultureInfo.InvariantCulture,
                    $"  entry {seen.Entry}: {seen.Name} {seen.Meaning} {seen.What}, {RecordText.When(seen.At, seen.Zone)}"
                )
            );
        screen.Out.WriteLine($"Head: {result.Head}");
        screen.Out.WriteLine(
            $"Root certificate, SHA-256 (compare with the one on the shop's wall): {result.RootFingerprint}"
        );
    }
}
