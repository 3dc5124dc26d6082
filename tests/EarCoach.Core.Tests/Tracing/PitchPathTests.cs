using CsCheck;
using EarCoach.Core.Listening;
using EarCoach.Core.Tracing;
using FluentAssertions;
using Xunit;

namespace EarCoach.Core.Tests.Tracing;

public sealed class PitchPathTests
{
    private static readonly Gen<PitchCandidate> _candidate = Gen.Select(Gen.Float[40, 80], Gen.Float[0.3f, 1], Gen.Float[-4, 0], (midi, clarity, weight) => new PitchCandidate(midi, clarity, weight));

    // The algorithm of Viterbi (1967) finds the way of least cost: no other way through the candidates of six frames may cost less.
    [Fact]
    public void Way_IsTheCheapestOfAll() => Gen.Select(_candidate.Array[1, 3].Array[5], Gen.Float[0, 3].Array[5]).Sample((frames, losses) =>
    {
        var path = new PitchPath(frames.Length);
        for (int t = 0; t < frames.Length; t++)
        {
            path.Add(frames[t], losses[t]);
        }

        PitchCandidate?[] way = [.. Enumerable.Range(0, frames.Length).Select(t => path.Decide(frames.Length - 1 - t))];
        double least = Ways(frames).Min(w => Cost(w, losses));
        Cost(way, losses).Should().BeApproximately(least, 1e-3);
    }, iter: 200);

    [Fact]
    public void OctaveErrorOfOneFrame_IsSmoothedAway()
    {
        var path = new PitchPath(8);
        for (int t = 0; t < 16; t++)
        {
            PitchCandidate right = new(60, 0.95f, t == 8 ? -0.8f : 0);
            PitchCandidate octave = new(48, 0.96f, t == 8 ? 0 : -0.8f);
            path.Add(t == 8 ? [octave, right] : [right, octave], 0);
        }

        path.Decide(7)!.Value.Midi.Should().Be(60);
    }

    [Fact]
    public void NewNote_IsFollowedAtOnce()
    {
        var path = new PitchPath(8);
        for (int t = 0; t < 16; t++)
        {
            path.Add([new PitchCandidate(t < 8 ? 60 : 62, 0.95f, 0)], 0);
        }

        path.Decide(8)!.Value.Midi.Should().Be(60);
        path.Decide(7)!.Value.Midi.Should().Be(62);
    }

    private static double Cost(PitchCandidate?[] way, float[] losses)
    {
        double cost = 0;
        for (int t = 0; t < way.Length; t++)
        {
            cost += way[t] is { } here ? PitchPath.FrameCost(here, losses[t]) : 0;
            cost += t == 0 ? 0 : PitchPath.StepCost(way[t - 1]?.Midi, way[t]?.Midi);
        }

        return cost;
    }

    private static IEnumerable<PitchCandidate?[]> Ways(PitchCandidate[][] frames) => frames.Aggregate(
        (IEnumerable<PitchCandidate?[]>)[[]],
        (ways, frame) => ways.SelectMany(way => frame.Select(c => (PitchCandidate?)c).Append(null).Select(c => (PitchCandidate?[])[.. way, c])));
}
