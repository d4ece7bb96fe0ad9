using Handwheel.Data;
using Handwheel.Web.Serving.Network;

namespace Handwheel.Web.Tests.Serving.Network;

/// <summary>HTTPS comes beside plain HTTP as soon as other machines are let in, and never where only this one is.</summary>
public sealed class ListeningTests
{
    const string Usual = "http://localhost:5080";

    [Theory]
    [InlineData(null, null, "http://localhost:5080")]
    [InlineData("", null, "http://localhost:5080")]
    [InlineData("http://127.0.0.1:7000", null, "http://127.0.0.1:7000")]
    [InlineData("http://[::1]:7000", null, "http://[::1]:7000")]
    [InlineData("http://0.0.0.0:5080", null, "http://0.0.0.0:5080;https://0.0.0.0:5443")]
    [InlineData("http://*:5080", "6443", "http://*:5080;https://*:6443")]
    [InlineData("http://[::]:5080", null, "http://[::]:5080;https://[::]:5443")]
    [InlineData("http://192.168.1.5:0", null, "http://192.168.1.5:0;https://192.168.1.5:0")]
    [InlineData("http://0.0.0.0:5080", "off", "http://0.0.0.0:5080")]
    [InlineData("https://0.0.0.0:443", null, "https://0.0.0.0:443")]
    [InlineData("http://0.0.0.0:80;https://0.0.0.0:443", null, "http://0.0.0.0:80;https://0.0.0.0:443")]
    public void It_listens_there(string? urls, string? https, string expected) =>
        Assert.Equal(expected.Split(';'), Listening.From(urls, Usual, https).Urls);

    [Theory]
    [InlineData("yes")]
    [InlineData("-1")]
    [InlineData("65536")]
    public void A_port_that_is_none_is_refused_in_words(string https)
    {
        var refused = Assert.Throws<ShopCannotStart>(() => Listening.From("http://0.0.0.0:5080", Usual, https));
        Assert.Contains($"found \"{https}\"", refused.Message, StringComparison.Ordinal);
    }
}
