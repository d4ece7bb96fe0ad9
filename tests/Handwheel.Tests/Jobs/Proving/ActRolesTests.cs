using System.Reflection;
using System.Runtime.CompilerServices;
using System.Text.Json.Serialization;
using Handwheel.Jobs.Proving;
using Handwheel.Tests.Tidy;

namespace Handwheel.Tests.Jobs.Proving;

/// <summary>
/// Which role may do which act, as the rules themselves say for a person who has no other role. Written down in
/// <c>acts.txt</c> beside this test, where a person can read it; <c>HANDWHEEL_WRITE_DOCS=1</c> writes it anew.
/// </summary>
public sealed class ActRolesTests
{
    const string WrittenDown = "tests/Handwheel.Tests/Jobs/Proving/acts.txt";

    [Fact]
    public void Every_act_and_the_roles_that_may_do_it_are_as_written_down()
    {
        var found = string.Concat(
            Acts().Select(a => $"{a.Name}: {string.Join(", ", RolesFor(a.Act))}\n").Order(StringComparer.Ordinal)
        );
        if (Environment.GetEnvironmentVariable("HANDWHEEL_WRITE_DOCS") == "1")
            File.WriteAllText(Path.Combine(Repository.Root, WrittenDown), found);
        Assert.Equal(Repository.Read(WrittenDown), found);
    }

    [Fact]
    public void Nobody_without_a_role_may_do_anything() =>
        Assert.All(
            Acts(),
            a => Assert.NotNull(WhoMay.Refusal(a.Act, new(Guid.NewGuid(), "nobody", default(Roles)), null))
        );

    static IEnumerable<string> RolesFor(Act act) =>
        Enum.GetValues<Roles>()
            .Where(r => r != default(Roles))
            .Where(r => WhoMay.Refusal(act, new(Guid.NewGuid(), "somebody", r), null) is null)
            .Select(r => r.ToString().ToLowerInvariant());

    /// <summary>Each kind of act; who may do it does not depend on what is in it, but for what a signature means.</summary>
    static IEnumerable<(string Name, Act Act)> Acts() =>
        typeof(Act)
            .GetCustomAttributes<JsonDerivedTypeAttribute>()
            .SelectMany(kind =>
                kind.DerivedType == typeof(Signed)
                    ? Enum.GetValues<SignedAs>()
                        .Select(s => ($"signed, {s.ToString().ToLowerInvariant()}", (Act)new Signed("", s)))
                    : [((string)kind.TypeDiscriminator!, (Act)RuntimeHelpers.GetUninitializedObject(kind.DerivedType))]
            );
}
