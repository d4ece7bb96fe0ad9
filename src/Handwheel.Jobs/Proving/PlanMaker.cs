using Handwheel.Jobs.Checking;
using Handwheel.Jobs.Setups;

namespace Handwheel.Jobs.Proving;

static class PlanMaker
{
    public static ProveOutPlan Make(
        ProveOutSubject subject,
        Setup setup,
        CheckResult check,
        ShopRulesForProving rules
    ) => throw new NotSupportedException();
}
