using System.Collections.Concurrent;

namespace Handwheel.Data;

/// <summary>Something on the shop floor has changed. Null parts: not about one.</summary>
public sealed record News(Guid? Machine = null, Guid? Job = null, Guid? ProveOut = null);

/// <summary>Tells open pages, in this process, what has just been stored. Pages load again what they show.</summary>
public sealed class ShopNews
{
    readonly ConcurrentDictionary<Guid, Action<News>> listeners = new();

    /// <summary>Calls <paramref name="hear"/> on the writer's thread: hand over quickly. Dispose to stop listening.</summary>
    public IDisposable Listen(Action<News> hear)
    {
        var id = Guid.NewGuid();
        listeners[id] = hear;
        return new Listening(() => listeners.TryRemove(id, out _));
    }

    public void Tell(News news)
    {
        foreach (var hear in listeners.Values)
        {
            try
            {
                hear(news);
            }
            catch (ObjectDisposedException)
            {
                // a page that has just been closed
            }
        }
    }

    sealed class Listening(Action stop) : IDisposable
    {
        public void Dispose() => stop();
    }
}
