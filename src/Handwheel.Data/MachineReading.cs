using Handwheel.Jobs.Proving;
using Handwheel.Nc;

namespace Handwheel.Data;

/// <summary>
/// One reading of a machine's register: a line of the ledger that outlives jobs. The database refuses to change or delete
/// it.
/// </summary>
public class MachineReading
{
    /// <summary>The order in which the readings were stored.</summary>
    public long Number { get; init; }
    public Guid MachineId { get; init; }
    public required string Register { get; init; }
    public required string Axis { get; init; }
    public Length Value { get; init; }

    /// <summary>Exactly as typed.</summary>
    public required string Typed { get; init; }
    public Units Units { get; init; }
    public Guid PersonId { get; init; }
    public required string PersonName { get; init; }
    public Roles PersonRoles { get; init; }
    public DateTimeOffset At { get; init; }

    /// <summary>The prove-out it was taken in; null: outside of any.</summary>
    public Guid? ProveOutId { get; init; }
    public long? EntryNumber { get; init; }
    public Length? Baseline { get; init; }
    public Length? Asked { get; init; }
    public bool Statement { get; init; }

    public LedgerReading ForLedger() =>
        new(
            MachineId,
            Register,
            Axis,
            Value,
            Typed,
            Units,
            new Actor(PersonId, PersonName, PersonRoles),
            At,
            ProveOutId,
            EntryNumber,
            new Expectation(Baseline, Asked, Statement)
        );

    public static MachineReading From(LedgerReading reading) =>
        new()
        {
            MachineId = reading.Machine,
            Register = reading.Register,
            Axis = reading.Axis,
            Value = reading.Value,
            Typed = reading.Typed,
            Units = reading.Units,
            PersonId = reading.By.Person,
            PersonName = reading.By.Name,
            PersonRoles = reading.By.Roles,
            At = reading.At,
            ProveOutId = reading.ProveOut,
            EntryNumber = reading.Entry,
            Baseline = reading.Expectation.Baseline,
            Asked = reading.Expectation.Asked,
            Statement = reading.Expectation.Statement,
        };
}
