using System.IO.Compression;
using System.Text;
using FluentAssertions;
using Xunit;
using static EarCoach.Scores.Tests.MusicXml.XmlScore;

namespace EarCoach.Scores.Tests.MusicXml;

// Source of the rules broken here: MusicXML 4.0; for the archives, the layout of compressed MusicXML files in the same standard.
public sealed class MalformedMusicXmlTests
{
    [Theory]
    [InlineData("", ScoreFailure.NotThisFormat, "byte 0")]
    [InlineData("Not XML", ScoreFailure.Malformed, "line 1, column 1")]
    [InlineData("<html><body/></html>", ScoreFailure.NotThisFormat, "line 1")]
    [InlineData("<score-timewise/>", ScoreFailure.Unsupported, "line 1")]
    [InlineData("<score-partwise><part id='P1'><measure>", ScoreFailure.Malformed, "line 1, column 40")]
    [InlineData("<score-partwise/>", ScoreFailure.NoNotes, "whole file")]
    public void Read_NoScore_IsRefused(string text, ScoreFailure failure, string place)
    {
        ScoreException refusal = Refusal(Encoding.UTF8.GetBytes(text));

        refusal.Failure.Should().Be(failure);
        refusal.Place.Should().Be(place);
    }

    [Theory]
    [InlineData("<note><pitch><step>C</step><octave>4</octave></pitch></note>", "<note> has no <duration>")]
    [InlineData("<note><duration>4</duration></note>", "<note> has no <pitch>")]
    [InlineData("<note><pitch><step>H</step><octave>4</octave></pitch><duration>4</duration></note>", "<step> is 'H'")]
    [InlineData("<note><pitch><step>C</step><octave>12</octave></pitch><duration>4</duration></note>", "<octave> is '12'")]
    [InlineData("<note><pitch><step>C</step><octave>4</octave></pitch><duration>-4</duration></note>", "<duration> is '-4'")]
    [InlineData("<note><pitch><step>C</step><octave>4</octave></pitch><duration>0</duration></note>", "<duration> is '0'")]
    [InlineData("<note><pitch><step>C</step><octave>4</octave></pitch><duration>1e9</duration></note>", "<duration> is '1e9'")]
    [InlineData("<backup><duration>1</duration></backup>", "before the start of the measure")]
    [InlineData("<attributes><divisions>0</divisions></attributes>", "<divisions> is '0'")]
    [InlineData("<attributes><time><beats>4</beats><beat-type>5</beat-type></time></attributes>", "metre 4/5")]
    [InlineData("<attributes><time><senza-misura/></time></attributes>", "without metre")]
    [InlineData("<attributes><key><fifths>9</fifths></key></attributes>", "<fifths> is '9'")]
    [InlineData("<sound tempo=\"0\"/>", "The tempo is '0'")]
    [InlineData("<sound tempo=\"fast\"/>", "The tempo is 'fast'")]
    [InlineData("<barline><repeat direction=\"backward\" times=\"999\"/></barline>", "'999' times")]
    public void Read_ABrokenElement_IsRefusedWithPartMeasureAndLine(string element, string reason)
    {
        ScoreException refusal = Refusal(Of(Attributes + element));

        refusal.Place.Should().MatchRegex("^part P1, measure 1(, line 7)?$");
        refusal.Reason.Should().Contain(reason);
    }

    [Fact]
    public void Read_AnExternalEntity_IsNeverFetched()
    {
        string secret = Path.GetTempFileName();
        File.WriteAllText(secret, "secret");
        string document = $"<!DOCTYPE score-partwise [<!ENTITY x SYSTEM \"file://{secret}\">]><score-partwise><work><work-title>&x;</work-title></work></score-partwise>";

        ScoreException refusal = Refusal(Encoding.UTF8.GetBytes(document));

        refusal.Failure.Should().Be(ScoreFailure.Malformed);
        refusal.Message.Should().NotContain("secret");
        File.Delete(secret);
    }

    [Fact]
    public void Read_EntitiesThatSwell_AreRefusedAtOnce()
    {
        string entities = string.Concat(Enumerable.Range(1, 20).Select(level => $"<!ENTITY e{level} \"&e{level - 1};&e{level - 1};&e{level - 1};&e{level - 1};\">"));
        string document = $"<!DOCTYPE score-partwise [<!ENTITY e0 \"lol\">{entities}]><score-partwise><work><work-title>&e20;</work-title></work></score-partwise>";

        Refusal(Encoding.UTF8.GetBytes(document)).Failure.Should().Be(ScoreFailure.Malformed);
    }

    [Fact]
    public void Read_ElementsNestedWithoutEnd_AreRefused()
    {
        string deep = string.Concat(Enumerable.Repeat("<a>", 100_000));

        Refusal(Encoding.UTF8.GetBytes($"<score-partwise>{deep}")).Reason.Should().Contain("64 deep");
    }

    [Theory]
    [InlineData("nothing", "META-INF/container.xml")]
    [InlineData("container without a score", "score.musicxml")]
    [InlineData("container that names nothing", "names no score")]
    public void Read_AnArchiveWithoutAScore_IsRefused(string which, string reason)
    {
        byte[] archive = which switch
        {
            "nothing" => Archive(("other.txt", "x"u8.ToArray())),
            "container without a score" => Archive(("META-INF/container.xml", "<container><rootfiles><rootfile full-path=\"score.musicxml\"/></rootfiles></container>"u8.ToArray())),
            _ => Archive(("META-INF/container.xml", "<container/>"u8.ToArray())),
        };

        ScoreException refusal = Refusal(archive);

        refusal.Failure.Should().Be(ScoreFailure.Malformed);
        refusal.Message.Should().Contain(reason);
    }

    [Fact]
    public void Read_AnArchiveThatSwells_IsRefusedBeforeItIsUnpacked()
    {
        byte[] zeros = new byte[30 * 1024 * 1024];
        byte[] archive = Archive(("META-INF/container.xml", "<container><rootfiles><rootfile full-path=\"s.xml\"/></rootfiles></container>"u8.ToArray()), ("s.xml", zeros));
        long before = GC.GetAllocatedBytesForCurrentThread();

        Refusal(archive).Failure.Should().Be(ScoreFailure.TooLarge);

        (GC.GetAllocatedBytesForCurrentThread() - before).Should().BeLessThan(20 * 1024 * 1024);
    }

    [Fact]
    public void Read_AnArchiveOfNonsense_IsRefused() => Refusal([.. "PK"u8, .. new byte[100]]).Failure.Should().Be(ScoreFailure.Malformed);

    [Fact]
    public void Read_MoreNotesThanAPassageHas_IsRefused()
    {
        string measure = string.Concat(Enumerable.Repeat(Note("C4", 1), 16));
        byte[] document = Of([Attributes + measure, .. Enumerable.Repeat(measure, 1_300)]);

        Refusal(document).Failure.Should().Be(ScoreFailure.TooLarge);
    }

    private static byte[] Archive(params (string Name, byte[] Content)[] entries)
    {
        using MemoryStream stream = new();
        using (ZipArchive zip = new(stream, ZipArchiveMode.Create, leaveOpen: true))
        {
            foreach ((string name, byte[] content) in entries)
            {
                using Stream entry = zip.CreateEntry(name).Open();
                entry.Write(content);
            }
        }

        return stream.ToArray();
    }

    private static ScoreException Refusal(byte[] document) => FluentActions.Invoking(() => Read(document)).Should().Throw<ScoreException>().Which;
}
