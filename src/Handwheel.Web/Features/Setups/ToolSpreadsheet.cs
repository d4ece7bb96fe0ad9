using System.Globalization;
using Handwheel.Jobs.Setups;
using Handwheel.Web.Features.Records;
using Microsoft.VisualBasic.FileIO;

namespace Handwheel.Web.Features.Setups;

/// <summary>What a pasted table did to the form's tools.</summary>
public sealed record ToolsTaken(int Changed, int Added);

/// <summary>
/// The tool list as a table for a spreadsheet and back: a line of headings, then a tool a line. Cells are taken as they stand;
/// what is no number is refused beside its field when the form is saved, as if it had been typed there.
/// </summary>
public static class ToolSpreadsheet
{
    public const int BytesMost = 1024 * 1024;
    const string Key = "tool";

    public static byte[] Write(SetupForm form) =>
        Csv.Of([
            [.. SetupFields.Tool.Select(f => f.Label)],
            .. form
                .Tools.Where(t => !t.IsEmpty)
                .Select(t => (IReadOnlyList<string>)[.. SetupFields.Tool.Select(f => t[f.Path])]),
        ]);

    /// <summary>
    /// Puts the table's cells into the form: by T number into the tool that has it, else into a new row. An empty cell and a
    /// column that is not there leave what the form has; no tool is taken out.
    /// </summary>
    /// <param name="text">Cells parted by tabs (as spreadsheets copy them), commas or semicolons, as the first line has them.</param>
    /// <exception cref="InputFault">Line and what was expected; the form is as it was.</exception>
    public static ToolsTaken Into(SetupForm form, string text, string fileName)
    {
        var rows = Rows(text, fileName);
        if (rows.Count == 0)
            throw new InputFault(fileName, 1, null, "nothing", "a line of headings and a tool a line");
        var fields = rows[0].Cells.Select(c => FieldOf(c, fileName, rows[0].Line)).ToList();
        if (fields.GroupBy(f => f?.Path).FirstOrDefault(g => g.Key is not null && g.Count() > 1) is { } twice)
            throw new InputFault(
                fileName,
                rows[0].Line,
                null,
                $"the heading “{twice.First()!.Label}” twice",
                "each heading once"
            );
        var t = fields.FindIndex(f => f?.Path == Key);
        if (t < 0)
            throw new InputFault(fileName, rows[0].Line, null, "no heading “T”", "a column with the tool numbers");
        foreach (var (line, cells) in rows.Skip(1))
            if (cells.Length > fields.Count && cells.Skip(fields.Count).Any(c => c.Length > 0))
                throw new InputFault(
                    fileName,
                    line,
                    null,
                    $"{cells.Length} cells",
                    $"{fields.Count}, as in the headings"
                );
            else if (t >= cells.Length || !IsNumber(cells[t]))
                throw new InputFault(
                    fileName,
                    line,
                    null,
                    t < cells.Length ? $"T “{cells[t]}”" : "no T",
                    "a tool number, such as 4"
                );
        return Put(form, rows.Skip(1).Select(r => r.Cells), fields, t);
    }

    static ToolsTaken Put(SetupForm form, IEnumerable<string[]> rows, List<Field?> fields, int t)
    {
        var (changed, added) = (0, 0);
        foreach (var cells in rows)
        {
            var tool = form.Tools.FirstOrDefault(r => r[Key].Trim() == cells[t]);
            if (tool is null)
            {
                added++;
                form.Tools.Add(tool = new FormPart(SetupFields.Tool));
            }
            else
            {
                changed++;
            }
            for (var i = 0; i < Math.Min(cells.Length, fields.Count); i++)
                if (fields[i] is { } field && cells[i].Length > 0)
                    tool[field.Path] = cells[i];
        }
        return new(changed, added);
    }

    /// <summary>By label or by its name in a setup file; an empty heading names a column that is left out.</summary>
    static Field? FieldOf(string heading, string fileName, int line)
    {
        if (heading.Length == 0)
            return null;
        return SetupFields.Tool.FirstOrDefault(f =>
                string.Equals(f.Label, heading, StringComparison.OrdinalIgnoreCase)
                || string.Equals(f.Path, heading, StringComparison.OrdinalIgnoreCase)
            )
            ?? throw new InputFault(
                fileName,
                line,
                null,
                $"the heading “{heading}”",
                "one of " + string.Join(", ", SetupFields.Tool.Select(f => f.Label))
            );
    }

    static List<(int Line, string[] Cells)> Rows(string text, string fileName)
    {
        text = text.TrimStart('\uFEFF');
        using var reader = new TextFieldParser(new StringReader(text))
        {
            TextFieldType = FieldType.Delimited,
            HasFieldsEnclosedInQuotes = true,
            TrimWhiteSpace = true,
        };
        reader.SetDelimiters(Delimiter(text));
        var last = text.AsSpan().TrimEnd().Count('\n') + 1;
        var rows = new List<(int, string[])>();
        while (!reader.EndOfData)
        {
            try
            {
                // The reader passes over empty lines; the line that it has just read is the one before its next, or the last.
                if (reader.ReadFields() is { } cells && cells.Any(c => c.Length > 0))
                    rows.Add(((int)(reader.LineNumber < 0 ? last : reader.LineNumber - 1), [.. cells.Select(Plain)]));
            }
            catch (MalformedLineException torn)
            {
                throw new InputFault(
                    fileName,
                    (int)torn.LineNumber,
                    null,
                    "a quote that is not closed",
                    "cells in quotes closed on their line"
                );
            }
        }
        return rows;
    }

    static string Delimiter(string text)
    {
        var first = text.AsSpan(0, text.AsSpan().IndexOfAny('\r', '\n') is >= 0 and var end ? end : text.Length);
        return first.Contains('\t') ? "\t"
            : first.Contains(';') && !first.Contains(',') ? ";"
            : ",";
    }

    /// <summary>Without the apostrophe that keeps a spreadsheet from running a cell; one that a person typed there goes with it.</summary>
    static string Plain(string cell) => cell is ['\'', '=' or '+' or '-' or '@', ..] ? cell[1..] : cell;

    static bool IsNumber(string text) => int.TryParse(text, NumberStyles.None, CultureInfo.InvariantCulture, out _);
}
