using EarCoach.Core.Passages;
using EarCoach.EndToEndTests.Running;
using EarCoach.EndToEndTests.Sound;
using EarCoach.Scores;
using EarCoach.Scores.MusicXml;
using Xunit;

namespace EarCoach.EndToEndTests;

/// <summary>What a player relaxes about a note reaches the judge: through the file, to the verdict.</summary>
public sealed class RelaxationTests
{
    private const double Tempo = 80;

    // Source: common practice: a grace note is an ornament; here it may be played or left out, and how it is played is not judged.
    [Fact]
    public async Task GraceNotes_LeftOutOrPlayed_EvenWrongly_AreClean()
    {
        Passage passage = ScoreFile.Read("X:1\nT:Ornaments\nM:4/4\nL:1/4\nQ:1/4=80\nK:C\nC E {A}G c | G {F}E C2 |\n"u8.ToArray()).Passage;
        PlayedNote[] played = [.. ShortCall.NotesOf(passage, Tempo)];
        PlayedNote[] wrong = [.. played.Select((note, index) => passage.Notes[index].IsGrace ? note with { Midi = note.Midi + 1 } : note)];

        Assert.Equal(["clean", "clean", "clean"], await VerdictsAsync(passage, [.. ShortCall.NotesOf(GraceNotes.Without(passage), Tempo)], played, wrong));
    }

    [Fact]
    public async Task ALateNote_WhereTimeIsFree_IsClean()
    {
        Passage strict = SmallScores.Quarters("Held", [60, 64, 67, 65, 64, 62]) with { Tempi = [new TempoMark(Fraction.Zero, Tempo)] };
        Passage free = NoteRelaxation.WithTiming(strict, new NoteRange(3, 3), isJudged: false);
        PlayedNote[] late = [.. ShortCall.NotesOf(strict, Tempo).Select((note, index) => index == 3 ? note with { OnsetSeconds = note.OnsetSeconds + 0.25, LengthSeconds = note.LengthSeconds - 0.25 } : note)];

        Assert.Equal(["missed 3:late"], await VerdictsAsync(strict, late));
        Assert.Equal(["clean"], await VerdictsAsync(free, late));
    }

    private static async Task<IReadOnlyList<string>> VerdictsAsync(Passage passage, params PlayedNote[][] attempts)
    {
        using TemporaryFolder data = new();
        string file = Path.Combine(data.Path, "passage.musicxml");
        await File.WriteAllBytesAsync(file, MusicXmlPassageWriter.ToBytes(passage));
        Recording recording = new(44_100);
        foreach (PlayedNote[] attempt in attempts)
        {
            recording.Play(attempt);
        }

        return await JudgeRun.VerdictsAsync(file, recording.Write(data.Path, "attempts.wav"));
    }
}
