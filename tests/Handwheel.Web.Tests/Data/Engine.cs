using System.Reflection;
using Xunit.Sdk;
using Xunit.v3;

namespace Handwheel.Web.Tests.Data;

public enum Engine
{
    Sqlite,
    Postgres,
}

/// <summary>Runs a theory once on SQLite and once on PostgreSQL.</summary>
[AttributeUsage(AttributeTargets.Method)]
public sealed class EachDatabaseAttribute : DataAttribute
{
    public override ValueTask<IReadOnlyCollection<ITheoryDataRow>> GetData(
        MethodInfo testMethod,
        DisposalTracker disposalTracker
    ) =>
        ValueTask.FromResult<IReadOnlyCollection<ITheoryDataRow>>([
            new TheoryDataRow(Engine.Sqlite),
            new TheoryDataRow(Engine.Postgres),
        ]);

    public override bool SupportsDiscoveryEnumeration() => true;
}
