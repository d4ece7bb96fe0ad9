namespace Handwheel.Jobs.Records;

/// <summary>A private key (PKCS#8) and its certificate (DER).</summary>
public sealed record KeyAndCertificate(byte[] Key, byte[] Certificate);

/// <summary>Makes the shop's root and the certificates that sign records, and gives signers from them. Bytes in, bytes out.</summary>
public static class ShopKeys
{
    public static KeyAndCertificate MakeRoot(string shop, DateTimeOffset from, int years = 30) =>
        throw new NotSupportedException();

    public static KeyAndCertificate MakeLeaf(KeyAndCertificate root, string name, DateTimeOffset from, int years = 3) =>
        throw new NotSupportedException();

    public static RecordSigner Signer(KeyAndCertificate leaf, byte[] rootCertificate) =>
        throw new NotSupportedException();
}
