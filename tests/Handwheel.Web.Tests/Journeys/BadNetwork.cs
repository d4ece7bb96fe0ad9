using System.Collections.Concurrent;
using System.Net;
using System.Net.Sockets;
using System.Text;

namespace Handwheel.Web.Tests.Journeys;

/// <summary>What is wrong with the shop's network.</summary>
public enum Fault
{
    None,

    /// <summary>Everything comes 300 ms late, and one piece in twenty another second, as when it is sent again.</summary>
    Slow,

    /// <summary>What is sent arrives nowhere, and nobody says so.</summary>
    BlackHole,

    /// <summary>The connection is reset as soon as something is sent.</summary>
    Reset,

    /// <summary>The request goes lost, then the connection ends.</summary>
    RequestLost,

    /// <summary>The server has the request and has done what it asks; its answer goes lost.</summary>
    AnswerLost,

    /// <summary>The answer ends in the middle of its body.</summary>
    HalfBody,

    /// <summary>Something on the way answers 200 with a page of its own.</summary>
    CaptivePortal,

    /// <summary>A proxy on the way answers 502.</summary>
    BadGateway,
}

/// <summary>A shop's bad network: a TCP proxy on this machine in front of the app. What goes wrong can be changed at any moment.</summary>
public sealed class BadNetwork : IAsyncDisposable
{
    static readonly byte[] Portal = Answer("200 OK", "text/html", "<h1>Accept the terms of this network</h1>");
    static readonly byte[] Gateway = Answer("502 Bad Gateway", "text/plain", "bad gateway");

    readonly TcpListener listener = new(IPAddress.Loopback, 0);
    readonly CancellationTokenSource stopped = new();
    readonly ConcurrentDictionary<TcpClient, bool> open = [];
    volatile int server;
    readonly Task accepting;
    volatile Fault fault;
    int pieces;

    /// <param name="app">Address of the app.</param>
    public BadNetwork(string app)
    {
        server = new Uri(app).Port;
        listener.Start();
        accepting = Accept();
    }

    public string Address => $"http://127.0.0.1:{((IPEndPoint)listener.LocalEndpoint).Port}";

    public Fault Fault
    {
        get => fault;
        set => fault = value;
    }

    /// <summary>From now on connections go to another app: to the browser the one behind the address was started anew.</summary>
    public void LeadsTo(string app)
    {
        server = new Uri(app).Port;
        foreach (var connection in open.Keys)
            connection.Dispose();
    }

    static byte[] Answer(string status, string type, string body) =>
        Encoding.ASCII.GetBytes(
            $"HTTP/1.1 {status}\r\nContent-Type: {type}\r\nContent-Length: {body.Length}\r\nConnection: close\r\n\r\n{body}"
        );

    async Task Accept()
    {
        try
        {
            while (true)
                _ = Carry(await listener.AcceptTcpClientAsync(stopped.Token));
        }
        catch (Exception e) when (e is OperationCanceledException or SocketException)
        {
            // the test is over
        }
    }

    async Task Carry(TcpClient tablet)
    {
        using var app = new TcpClient();
        open[tablet] = open[app] = true;
        try
        {
            await app.ConnectAsync(IPAddress.Loopback, server, stopped.Token);
            await Task.WhenAny(Requests(tablet, app), Answers(app, tablet));
        }
        catch (Exception e) when (IsOver(e))
        {
            // this connection is over
        }
        finally
        {
            open.TryRemove(tablet, out _);
            open.TryRemove(app, out _);
            tablet.Dispose();
        }
    }

    static bool IsOver(Exception e) =>
        e is IOException or SocketException or ObjectDisposedException or OperationCanceledException;

    async Task Requests(TcpClient tablet, TcpClient app)
    {
        var (from, to) = (tablet.GetStream(), app.GetStream());
        var buffer = new byte[64 * 1024];
        for (int read; (read = await from.ReadAsync(buffer, stopped.Token)) > 0; )
            switch (fault)
            {
                case Fault.BlackHole:
                    await Task.Delay(Timeout.Infinite, stopped.Token);
                    break;
                case Fault.Reset:
                    tablet.LingerState = new LingerOption(true, 0);
                    return;
                case Fault.RequestLost:
                    return;
                case Fault.CaptivePortal:
                    await from.WriteAsync(Portal, stopped.Token);
                    return;
                case Fault.BadGateway:
                    await from.WriteAsync(Gateway, stopped.Token);
                    return;
                case Fault.Slow:
                    await Late();
                    goto default;
                default:
                    await to.WriteAsync(buffer.AsMemory(0, read), stopped.Token);
                    break;
            }
    }

    async Task Answers(TcpClient app, TcpClient tablet)
    {
        var (from, to) = (app.GetStream(), tablet.GetStream());
        var buffer = new byte[64 * 1024];
        for (int read; (read = await from.ReadAsync(buffer, stopped.Token)) > 0; )
            switch (fault)
            {
                case Fault.BlackHole:
                    await Task.Delay(Timeout.Infinite, stopped.Token);
                    break;
                case Fault.AnswerLost:
                    return;
                case Fault.HalfBody:
                    await to.WriteAsync(buffer.AsMemory(0, MiddleOfBody(buffer.AsSpan(0, read))), stopped.Token);
                    return;
                case Fault.Slow:
                    await Late();
                    goto default;
                default:
                    await to.WriteAsync(buffer.AsMemory(0, read), stopped.Token);
                    break;
            }
    }

    Task Late() => Task.Delay(Interlocked.Increment(ref pieces) % 20 == 0 ? 1300 : 300, stopped.Token);

    static int MiddleOfBody(ReadOnlySpan<byte> answer)
    {
        var head = answer.IndexOf("\r\n\r\n"u8) + 4;
        return head > 3 ? head + (answer.Length - head) / 2 : answer.Length / 2;
    }

    public async ValueTask DisposeAsync()
    {
        await stopped.CancelAsync();
        listener.Stop();
        foreach (var connection in open.Keys)
            connection.Dispose();
        await accepting;
        stopped.Dispose();
    }
}
