using System.Text;
using Bunit;
using Handwheel.Web.Features.Jobs;
using Microsoft.AspNetCore.Components.Forms;

namespace Handwheel.Web.Tests.Features.Jobs;

public sealed class FileBoxTests : BunitContext
{
    readonly List<string> told = [];

    /// <summary>A file that the browser says is 9 bytes long, and of which as many arrive as are given here.</summary>
    sealed class Chosen(int arriving, Exception? breaks = null) : IBrowserFile
    {
        public string Name => "O9.nc";
        public DateTimeOffset LastModified => default;
        public long Size => 9;
        public string ContentType => "";

        public Stream OpenReadStream(long maxAllowedSize = 512000, CancellationToken cancellationToken = default) =>
            breaks is not null ? throw breaks : new MemoryStream(Encoding.ASCII.GetBytes("G0 X1 M30"[..arriving]));
    }

    async Task<IRenderedComponent<FileBox>> Choose(IBrowserFile file, long most = 100)
    {
        JSInterop.Mode = JSRuntimeMode.Loose;
        var box = Render<FileBox>(p =>
            p.Add(x => x.Id, "program")
                .Add(x => x.Label, "Program")
                .Add(x => x.Files, [])
                .Add(x => x.Most, most)
                .Add(x => x.Arriving, begun => told.Add(begun ? "begun" : "over"))
                .Add(x => x.FilesChanged, files => told.AddRange(files.Select(f => Encoding.ASCII.GetString(f.Bytes))))
        );
        var input = box.FindComponent<InputFile>();
        await box.InvokeAsync(() => input.Instance.OnChange.InvokeAsync(new InputFileChangeEventArgs([file])));
        return box;
    }

    [Fact]
    public async Task The_form_knows_from_the_choice_until_the_bytes_are_here_that_a_file_is_on_its_way()
    {
        var box = await Choose(new Chosen(arriving: 9));

        Assert.Equal(["begun", "G0 X1 M30", "over"], told);
        Assert.Empty(box.FindAll("[role=alert], [role=status]"));
    }

    [Fact]
    public async Task A_file_of_which_only_a_part_arrived_is_not_taken_for_the_whole()
    {
        var box = await Choose(new Chosen(arriving: 5));

        Assert.Equal(["begun", "over"], told);
        Assert.Contains(
            "Of O9.nc only 5 of 9 bytes arrived",
            box.Find("[role=alert]").TextContent,
            StringComparison.Ordinal
        );
    }

    [Fact]
    public async Task A_file_that_is_too_large_is_refused_with_both_sizes()
    {
        var box = await Choose(new Chosen(arriving: 9), most: 8);

        Assert.Equal(["begun", "over"], told);
        Assert.Contains(
            "O9.nc has 9 B; at most 8 B is taken",
            box.Find("[role=alert]").TextContent,
            StringComparison.Ordinal
        );
    }

    [Fact]
    public async Task A_form_is_not_held_for_ever_by_a_file_that_broke_off()
    {
        await Assert.ThrowsAsync<TimeoutException>(() => Choose(new Chosen(0, new TimeoutException())));

        Assert.Equal(["begun", "over"], told);
    }
}
