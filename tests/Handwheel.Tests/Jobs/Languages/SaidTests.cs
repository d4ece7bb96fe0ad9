using System.Globalization;
using Handwheel.Jobs.Languages;
using Handwheel.Jobs.Proving;

namespace Handwheel.Tests.Jobs.Languages;

public sealed class SaidTests
{
    static readonly Register Length = new("H3", "length");

    [Fact]
    public void English_is_the_text_as_it_stands_whatever_the_server_s_culture()
    {
        var before = (CultureInfo.CurrentCulture, CultureInfo.CurrentUICulture);
        try
        {
            (CultureInfo.CurrentCulture, CultureInfo.CurrentUICulture) = (new("es-MX"), new("es-MX"));
            Assert.Equal("Read H3 length", Said.In($"Read {Length}"));
            Assert.Equal("{0} half 0.5 of 1234567", Said.In($"{{0}} half {0.5} of {1234567}"));
            Assert.Equal("Parking", Said.In("Parking"));
        }
        finally
        {
            (CultureInfo.CurrentCulture, CultureInfo.CurrentUICulture) = before;
        }
    }

    [Fact]
    public void Spanish_is_said_until_it_is_given_back_and_numbers_keep_their_form()
    {
        using (Said.Speak(Language.Spanish))
        {
            Assert.Equal("Lea H3 longitud", Said.In($"Read {Length}"));
            Assert.Equal("Salto 1.5", Said.In($"Salto {1.5m}")); // no such text: as it stands
            Assert.Equal(
                "Se leyó 12.5 %; debe ser 5 o menos: bájelo y léalo otra vez.",
                Said.In($"{12.5m} % was read; it is to be {5} or less: turn it down and read it again.")
            );
        }
        Assert.Equal("Read H3 length", Said.In($"Read {Length}"));
    }

    [Fact]
    public async Task A_language_is_spoken_in_its_own_flow_alone()
    {
        using var spanish = Said.Speak(Language.Spanish);
        Task<string> apart;
        using (ExecutionContext.SuppressFlow())
            apart = Task.Run(() => Said.In("Parking"));
        Assert.Equal("Parking", await apart);
        Assert.Equal("Reposo", await Task.Run(() => Said.In("Parking")));
    }

    [Fact]
    public void Values_with_braces_stay_as_they_are()
    {
        using var spanish = Said.Speak(Language.Spanish);
        var block = "{1}";
        Assert.Equal("Lea {1}", Said.In($"Read {block}"));
    }

    [Fact]
    public void A_register_keeps_its_name_and_its_key_in_every_language()
    {
        using var spanish = Said.Speak(Language.Spanish);
        Assert.Equal("H3 length", Length.ToString());
        Assert.Equal("G55 Z", new Register("G55", "z").Words);
    }
}
