namespace Handwheel.Data;

/// <summary>One program with one setup on one machine.</summary>
public class Job : Kept
{
    /// <summary>The shop's running number, from 1.</summary>
    public int Number { get; set; }
    public Guid MachineId { get; set; }

    public string Part { get; set; } = "";
    public string Operation { get; set; } = "";
    public string Revision { get; set; } = "";

    /// <summary>The setup was read out of the program and nobody has said yet that it is complete.</summary>
    public bool SetupIsDraft { get; set; }

    public DateTimeOffset MadeAt { get; set; }
    public Guid MadeBy { get; set; }

    /// <summary>Put away: no longer in the list of open jobs.</summary>
    public bool PutAway { get; set; }

    /// <summary>The prove-out of another job whose program is set up again with this one, on another machine; null: none.</summary>
    public Guid? ProvedIn { get; set; }

    public List<JobFile> Files { get; } = [];

    /// <summary>Values of parameters that the program reads and that only the control knows, as people said them.</summary>
    public List<JobParameter> Parameters { get; } = [];
}

public enum JobFileKind
{
    Program,
    Subprogram,
    Setup,
    Photo,
}

/// <summary>A file's place in a job. A newer program or setup replaces an older one; the older row stays.</summary>
public class JobFile
{
    public Guid Id { get; set; } = Guid.CreateVersion7();
    public Guid JobId { get; set; }
    public JobFileKind Kind { get; set; }

    /// <summary>The name it came with, without a path.</summary>
    public required string Name { get; set; }
    public required string Sha256 { get; set; }
    public DateTimeOffset AddedAt { get; set; }
    public Guid AddedBy { get; set; }

    /// <summary>Null: this is the file in use.</summary>
    public DateTimeOffset? ReplacedAt { get; set; }
}
