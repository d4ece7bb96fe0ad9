using Microsoft.Data.Sqlite;

namespace Handwheel.Data;

/// <summary>What SQLite found wrong, in words for the person who has to do something about it.</summary>
static class SqliteWords
{
    /// <summary>A half sentence without a full stop. The codes are those of https://www.sqlite.org/rescode.html.</summary>
    public static string Of(SqliteException e) =>
        e.SqliteErrorCode switch
        {
            5 or 6 => "another program has it open",
            8 => "this account may not write it",
            10 => "the disk could not read or write it",
            11 => "the file is damaged",
            13 => "the disk is full",
            14 =>
                "the file cannot be opened: see that it is there and that this account may read and write it and its folder",
            26 => "the file is no SQLite database",
            _ => "the database answered: " + e.Message,
        };
}
