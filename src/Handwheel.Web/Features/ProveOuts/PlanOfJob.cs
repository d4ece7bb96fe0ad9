using System.Security.Cryptography;
using System.Text.Json;
using System.Text.Json.Serialization;
using Handwheel.Data;
using Handwheel.Jobs.Checking;
using Handwheel.Jobs.Motions;
using Handwheel.Jobs.Proving;
using Handwheel.Jobs.Setups;
using Handwheel.Nc;
using Handwheel.Web.Features.Jobs;

namespace Handwheel.Web.Features.ProveOuts;

/// <summary>The plan of a prove-out from a job's files.</summary>
public static class PlanOfJob
{
    static readonly JsonSerializerOptions Web = new(JsonSerializerDefaults.Web)
    {
        Converters = { new JsonStringEnumConverter(JsonNamingPolicy.CamelCase) },
    };

    /// <param name="before">Where the program was proved, when it is set up again; null: it is proved now.</param>
    public static ProveOutPlan Make(OpenedJob job, Guid proveOut, ShopRulesForProving rules, ProvedBefore? before) =>
        ProveOutPlan.From(
            Subject(job, proveOut, before is null ? Purpose.Prove : Purpose.SetUpAgain, known: []) with
            {
                ProvedBefore = before,
            },
            job.Setup,
            job.Check,
            rules
        );

    /// <summary>After a change of program or setup. Programs that are the same keep the block that is asked for.</summary>
    public static ProveOutPlan Revise(ProveOutPlan plan, OpenedJob job) =>
        plan.Revised(
            Subject(job, plan.Subject.ProveOut, plan.Subject.Purpose, plan.Subject.Programs) with
            {
                ProvedBefore = plan.Subject.ProvedBefore,
            },
            job.Setup,
            job.Check
        );

    /// <summary>The check's result as it is kept with the plan.</summary>
    public static byte[] CheckText(CheckResult check) => JsonSerializer.SerializeToUtf8Bytes(check, Web);

    /// <summary>Of the setup only what decides how a program is read.</summary>
    static Setup MachineAlone(Setup setup) =>
        new()
        {
            Units = setup.Units,
            Machine = setup.Machine,
            WorkOffsets = new Dictionary<WorkOffsetName, Offset>(),
            Tools = [],
        };

    static ProveOutSubject Subject(OpenedJob job, Guid proveOut, Purpose purpose, IReadOnlyList<ProgramInControl> known)
    {
        var motion = ProgramMotion.Of(job.Followed);
        var chance = new Random(RandomNumberGenerator.GetInt32(int.MaxValue));
        var programs = new[] { job.Program }
            .Concat(job.Subprograms)
            .Select(p =>
                known.FirstOrDefault(k => k.Sha256 == StoredFile.Digest(p.Bytes) && k.Name == p.Name)
                ?? ProgramInControl.From(p.Name, p.Bytes, chance)
            );
        return new(
            proveOut,
            job.Machine.Id,
            job.SetupSha256,
            StoredFile.Digest(CheckText(job.Check)),
            [.. programs],
            purpose,
            motion.Unknown is null ? motion.Paths : null,
            motion.Unknown is null ? motion.Cutting : null,
            motion.Unknown,
            StoredFile.Digest(SetupFile.Write(MachineAlone(job.Setup)))
        )
        {
            Assumed = job.Said.Count == 0 ? null : [.. job.Said.Select(v => new PlannedParameter(v.Number, v.Typed))],
        };
    }
}
