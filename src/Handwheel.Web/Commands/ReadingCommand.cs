using System.CommandLine;
using System.Text;
using System.Text.Encodings.Web;
using System.Text.Json;
using Handwheel.Jobs.Readings;
using Handwheel.Jobs.Setups;

namespace Handwheel.Web.Commands;

/// <summary><c>handwheel reading</c>: what a value read from the control says about what was done to the register.</summary>
static class ReadingCommand
{
    /// <summary>Taken where none is given; a reading with more decimals is then asked for its increment, since none is guessed.</summary>
    const decimal UsualIncrement = 0.0001m;

    public static Command Make(Screen screen)
    {
        var expected = new Option<string>("--expected")
        {
            Description = "The value that should be there.",
            Required = true,
            HelpName = "E",
        };
        var read = new Option<string>("--read")
        {
            Description = "The value that the control shows.",
            Required = true,
            HelpName = "R",
        };
        var baseline = new Option<string>("--baseline")
        {
            Description = "What the register held before it was changed.",
            HelpName = "B",
        };
        var raise = new Option<string>("--raise")
        {
            Description = "The raise as it was made, positive, also when it is put back.",
            HelpName = "D",
        };
        var increment = new Option<string>("--increment")
        {
            Description =
                "The register's least increment; a match is within half of it. Without it 0.0001 is used, and a reading with more than 4 decimals is refused.",
            HelpName = "I",
        };
        var others = new Option<string[]>("--other")
        {
            Description = "The value of a register that may have been taken for this one.",
            HelpName = "NAME=VALUE",
            AllowMultipleArgumentsPerToken = true,
        };
        var asJson = new Option<bool>("--json") { Description = "Print one JSON document." };
        var command = new Command("reading") { expected, read, baseline, raise, increment, others, asJson };
        command.SetAction(parsed =>
        {
            var step = Optional(increment) is { } given ? Positive(increment.Name, given) : (decimal?)null;
            var question = new ReadingQuestion
            {
                Expected = Number(expected.Name, parsed.GetValue(expected)).Value,
                Read = ReadValue(step, Number(read.Name, parsed.GetValue(read), step)),
                Baseline = Optional(baseline)?.Value,
                Raise = Optional(raise) is { } made ? NotNegative(raise.Name, made) : null,
                Increment = step ?? UsualIncrement,
                Others = [.. (parsed.GetValue(others) ?? []).Select(Other)],
            };
            var answer = Reading.Compare(question);
            if (parsed.GetValue(asJson))
                screen.Out.WriteLine(Json(answer));
            else
                WriteText(screen, answer);
            return answer.Match ? CommandLine.Done : CommandLine.DoneWithStop;

            TypedNumber? Optional(Option<string> option) =>
                parsed.GetValue(option) is { } typed ? Number(option.Name, typed) : null;
        });
        return command;
    }

    static decimal ReadValue(decimal? step, TypedNumber read) =>
        step is not null || TypedNumber.Decimals(read.Value) <= TypedNumber.Decimals(UsualIncrement)
            ? read.Value
            : throw new InputFault(
                $"handwheel reading: --read: {read.Text} has more than 4 decimals, so the register steps in less than 0.0001: say in what with --increment"
            );

    static TypedNumber Number(string option, string? typed, decimal? step = null)
    {
        var read = step is { } given
            ? TypedNumber.TryRead(typed, TypedNumber.Decimals(given), out var number, out var refusal)
            : TypedNumber.TryRead(typed, out number, out refusal);
        return read ? number : throw new InputFault($"handwheel reading: {option}: {refusal}");
    }

    static decimal Positive(string option, TypedNumber number) =>
        number.Value > 0
            ? number.Value
            : throw new InputFault($"handwheel reading: {option}: found {number.Text}, expected a number above 0");

    static decimal NotNegative(string option, TypedNumber number) =>
        number.Value >= 0
            ? number.Value
            : throw new InputFault(
                $"handwheel reading: {option}: found {number.Text}, expected the raise as it was made, without a minus sign"
            );

    static OtherRegister Other(string text)
    {
        var at = text.LastIndexOf('=');
        if (at <= 0)
            throw new InputFault(
                $"handwheel reading: --other: found \"{text}\", expected NAME=VALUE such as \"G54 Z=-12.5\""
            );
        return new(text[..at].Trim(), Number("--other " + text[..at], text[(at + 1)..]).Value);
    }

    static void WriteText(Screen screen, ReadingAnswer answer)
    {
        if (answer.Match)
        {
            screen.Out.WriteLine(screen.Bold("Match. ") + answer.Message);
            return;
        }
        screen.Out.WriteLine(screen.Red("No match") + $" ({answer.Cause}). {answer.Message}");
        screen.Out.WriteLine(answer.Remedy);
        if (answer.AlsoPossible.Count > 0)
            screen.Out.WriteLine("Also possible: " + string.Join(", ", answer.AlsoPossible) + ".");
    }

    static string Json(ReadingAnswer answer)
    {
        using var stream = new MemoryStream();
        var options = new JsonWriterOptions
        {
            Indented = true,
            Encoder = JavaScriptEncoder.UnsafeRelaxedJsonEscaping,
            NewLine = "\n",
        };
        using (var json = new Utf8JsonWriter(stream, options))
        {
            json.WriteStartObject();
            json.WriteBoolean("match", answer.Match);
            json.WriteNumber("difference", Figure.Shortest(answer.Difference));
            json.WriteString("cause", answer.Cause);
            json.WriteString("message", answer.Message);
            json.WriteString("remedy", answer.Remedy);
            json.WriteStartArray("alsoPossible");
            foreach (var cause in answer.AlsoPossible)
                json.WriteStringValue(cause);
            json.WriteEndArray();
            json.WriteEndObject();
        }
        return Encoding.UTF8.GetString(stream.ToArray());
    }
}
