namespace Handwheel.Web.Commands;

/// <summary>Every verb, in the order of the help.</summary>
static class Verbs
{
    public static Verb[] All { get; } =
    [
        new("check", "Judge a program against a setup.", CheckCommand.Make),
        new("reading", "Compare a value read from the control with the one that should be there.", ReadingCommand.Make),
        new("backup", "Copy the shop's database, also while the app serves.", BackupCommand.Make),
        new("restore", "Put a backup in the place of the shop's database.", RestoreCommand.Make),
        new("demo", "Make a demo shop and serve it.", DemoCommand.Make),
        new("sheet", "Print the setup sheet from a setup and a program.", SheetCommand.Make),
        new("labels", "Print labels for the tool holders of a setup.", LabelsCommand.Make),
        new("record", "Write the signed record of a job as PDF or JSON.", RecordCommand.Make),
        new("verify", "Say whether a record is as it was signed, and who signed what.", VerifyCommand.Make),
        new("schema", "Print the JSON Schema of a format.", SchemaCommand.Make),
    ];
}
