using Handwheel.Data;
using Handwheel.Jobs.Proving;
using Handwheel.Web.Features;
using Handwheel.Web.Features.FirstStart;
using Handwheel.Web.Features.People;
using Handwheel.Web.SigningIn;
using Microsoft.EntityFrameworkCore;

namespace Handwheel.Web.Tests.Data;

public sealed class SignInTests(PostgresCluster cluster)
{
    const string Pin = "204865";
    const string Password = "gauge block under the tip";

    static async Task<Place> Tablet(TestShop shop, string name)
    {
        var named = (await shop.Get<NameTablet>().Run(TestShop.Boss, name)).Must;
        return new(named.Tablet.Id, name, named.Tablet.Id.ToString());
    }

    static string Wrong(int n) => (300_000 + n * 7).ToString(System.Globalization.CultureInfo.InvariantCulture);

    [Theory, EachDatabase]
    public async Task The_right_PIN_signs_in_and_a_wrong_one_does_not(Engine engine)
    {
        await using var shop = await TestShop.Open(engine, cluster);
        var person = await shop.Hire("night setter", Roles.Setter, Pin);
        var at = await Tablet(shop, "tablet 1");
        var wrong = await shop.Get<SignIn>().WithPin(person.Id, "204866", at);
        var right = await shop.Get<SignIn>().WithPin(person.Id, Pin, at);
        Assert.Equal(RefusedBecause.WrongSecret, wrong.Refused?.Because);
        Assert.Equal(new Actor(person.Id, "night setter", Roles.Setter), right.Must.Actor());
        Assert.Equal("tablet 1", right.Must.Place().Name);
        Assert.True(right.Must.HasClaim(PersonCookie.ChangePin, "yes"));
    }

    [Theory, EachDatabase]
    public async Task Ten_wrong_PINs_lock_a_person_through_a_restart_until_a_supervisor_resets(Engine engine)
    {
        await using var shop = await TestShop.Open(engine, cluster);
        var person = await shop.Hire("night setter", Roles.Setter, Pin);
        var at = await Tablet(shop, "tablet 1");
        for (var i = 0; i < SecretCheck.PinTries; i++)
        {
            Assert.Equal(
                RefusedBecause.WrongSecret,
                (await shop.Get<SignIn>().WithPin(person.Id, Wrong(i), at)).Refused?.Because
            );
            if (i == 4)
                await shop.Restart();
        }
        await shop.Restart();
        var locked = (await shop.Get<SignIn>().WithPin(person.Id, Pin, at)).Refused;
        Assert.Equal(RefusedBecause.Locked, locked?.Because);
        Assert.Contains("supervisor", locked!.ToString(), StringComparison.Ordinal);
        shop.Time.Advance(TimeSpan.FromDays(30));
        Assert.Equal(RefusedBecause.Locked, (await shop.Get<SignIn>().WithPin(person.Id, Pin, at)).Refused?.Because);

        Assert.Null(await shop.Get<ResetPin>().Run(TestShop.Boss, person.Id, "615283"));
        Assert.Null((await shop.Get<SignIn>().WithPin(person.Id, "615283", at)).Refused);
    }

    [Theory, EachDatabase]
    public async Task Guesses_all_at_once_get_no_more_than_ten(Engine engine)
    {
        await using var shop = await TestShop.Open(engine, cluster);
        var person = await shop.Hire("night setter", Roles.Setter, Pin);
        var places = new List<Place>();
        for (var i = 0; i < 10; i++)
            places.Add(await Tablet(shop, $"tablet {i}"));
        var answers = await Task.WhenAll(
            Enumerable
                .Range(0, 200)
                .Select(i => Task.Run(() => shop.Get<SignIn>().WithPin(person.Id, Wrong(i), places[i % 10])))
        );
        Assert.Equal(SecretCheck.PinTries, answers.Count(a => a.Refused?.Because is RefusedBecause.WrongSecret));
        Assert.Equal(190, answers.Count(a => a.Refused?.Because is RefusedBecause.Locked));
    }

    [Theory, EachDatabase]
    public async Task A_tablet_takes_thirty_wrong_tries_an_hour_whoever_is_tried(Engine engine)
    {
        await using var shop = await TestShop.Open(engine, cluster);
        var people = new List<Person>();
        for (var i = 0; i < 5; i++)
            people.Add(await shop.Hire($"operator {i}", Roles.Operator, Pin));
        var at = await Tablet(shop, "tablet 1");
        for (var i = 0; i < SecretCheck.TabletTriesAnHour; i++)
            await shop.Get<SignIn>().WithPin(people[i % 5].Id, Wrong(i), at);
        Assert.Equal(RefusedBecause.Locked, (await shop.Get<SignIn>().WithPin(people[0].Id, Pin, at)).Refused?.Because);
        Assert.Null((await shop.Get<SignIn>().WithPin(people[0].Id, Pin, await Tablet(shop, "tablet 2"))).Refused);
        shop.Time.Advance(TimeSpan.FromMinutes(61));
        Assert.Null((await shop.Get<SignIn>().WithPin(people[1].Id, Pin, at)).Refused);
    }

    [Theory, EachDatabase]
    public async Task A_hundred_wrong_tries_a_day_lock_PINs_for_all_but_supervisors(Engine engine)
    {
        await using var shop = await TestShop.Open(engine, cluster);
        var people = new List<Person>();
        for (var i = 0; i < 12; i++)
            people.Add(await shop.Hire($"operator {i}", Roles.Operator, Pin));
        var supervisor = await shop.Hire("supervisor", Roles.Supervisor, Pin);
        var let = 0;
        for (var i = 0; i < 130; i++)
        {
            var at = new Place(null, "desk", $"address 10.0.0.{i % 20}");
            var answer = await shop.Get<SignIn>().WithPin(people[i % 11].Id, Wrong(i), at);
            let += answer.Refused?.Because is RefusedBecause.WrongSecret ? 1 : 0;
        }
        Assert.Equal(SecretCheck.ShopTriesADay, let);
        // Guesses that a day lets through, out of a million PINs: at most one in ten thousand.
        Assert.True(let / 1_000_000.0 <= 1e-4);
        var fresh = await Tablet(shop, "tablet 1");
        Assert.Equal(
            RefusedBecause.Locked,
            (await shop.Get<SignIn>().WithPin(people[11].Id, Pin, fresh)).Refused?.Because
        );
        Assert.Null((await shop.Get<SignIn>().WithPin(supervisor.Id, Pin, fresh)).Refused);
        Assert.Null(await shop.Get<LiftSignInLock>().Run(new Actor(supervisor.Id, supervisor.Name, supervisor.Roles)));
        Assert.Null((await shop.Get<SignIn>().WithPin(people[11].Id, Pin, fresh)).Refused);
    }

    [Theory, EachDatabase]
    public async Task Who_supervises_needs_the_password_where_no_tablet_has_a_name(Engine engine)
    {
        await using var shop = await TestShop.Open(engine, cluster);
        var supervisor = await shop.Hire("supervisor", Roles.Supervisor, Pin, Password);
        var refused = (await shop.Get<SignIn>().WithPin(supervisor.Id, Pin, TestShop.Desk)).Refused;
        Assert.Equal(RefusedBecause.NotAllowed, refused?.Because);
        Assert.True(
            (await shop.Get<SignIn>().WithPassword(supervisor.Id, Password, TestShop.Desk)).Must.SignedInByPassword()
        );
    }

    [Theory, EachDatabase]
    public async Task A_sign_in_ends_when_the_person_is_disabled_or_the_PIN_is_changed(Engine engine)
    {
        await using var shop = await TestShop.Open(engine, cluster);
        var person = await shop.Hire("night setter", Roles.Setter, Pin);
        var databases = shop.Get<IDbContextFactory<HandwheelDb>>();
        var first = (await shop.Get<SignIn>().WithPin(person.Id, Pin, TestShop.Desk)).Must;
        Assert.True(await first.StillHolds(databases));
        var second = (await shop.Get<ChangePin>().Run(first.Actor()!, TestShop.Desk, false, Pin, "739164")).Must;
        Assert.False(await first.StillHolds(databases));
        Assert.True(await second.StillHolds(databases));
        await using var db = await shop.Db();
        var version = (await db.People.SingleAsync(p => p.Id == person.Id)).Version;
        var admin = await shop.Hire("administrator", Roles.Administrator, "615283", Password);
        Assert.Null(
            await shop.Get<EditPerson>()
                .Run(new Actor(admin.Id, admin.Name, admin.Roles), person.Id, version, Roles.Setter, disabled: true)
        );
        Assert.False(await second.StillHolds(databases));
        Assert.Equal(
            RefusedBecause.WrongSecret,
            (await shop.Get<SignIn>().WithPin(person.Id, "739164", TestShop.Desk)).Refused?.Because
        );
    }

    [Theory, EachDatabase]
    public async Task The_first_administrator_is_made_once_with_the_printed_code(Engine engine)
    {
        await using var shop = await TestShop.Open(engine, cluster);
        var code = await shop.Get<FirstCode>().Renew();
        var make = shop.Get<MakeFirstAdministrator>();
        var wrong = await make.Run("AAAAA-AAAAA", "North", "administrator", Pin, Password, TestShop.Desk);
        var right = await make.Run(code!.ToLowerInvariant(), "North", "administrator", Pin, Password, TestShop.Desk);
        var again = await make.Run(code, "North", "somebody", Pin, Password, TestShop.Desk);
        Assert.Equal(RefusedBecause.WrongSecret, wrong.Refused?.Because);
        Assert.Equal(Roles.Administrator | Roles.Supervisor, right.Must.Actor()!.Roles);
        Assert.Equal(RefusedBecause.ChangedMeanwhile, again.Refused?.Because);
        Assert.Null(await shop.Get<FirstCode>().Renew());
    }

    [Theory]
    [InlineData("000000")]
    [InlineData("123456")]
    [InlineData("987654")]
    [InlineData("12345")]
    [InlineData("12345a")]
    [InlineData("١٢٣٤٥٦")]
    [InlineData(null)]
    public void A_PIN_that_anybody_would_try_is_no_PIN(string? pin) => Assert.NotNull(SecretRules.WhyNotPin(pin));
}
