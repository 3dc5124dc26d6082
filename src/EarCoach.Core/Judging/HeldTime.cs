using EarCoach.Core.Passages;

namespace EarCoach.Core.Judging;

/// <summary>Takes out of an attempt how much longer, or shorter, than written its fermatas were held: time begins anew with the note after one.</summary>
internal static class HeldTime
{
    /// <summary>Whether time begins anew with a note: its onset is free because the note before it has a fermata.</summary>
    public static bool BeginsAnew(Passage passage, int index) =>
        index > 0 && !passage.Notes[index].TimingJudged && passage.Notes[index - 1].Articulations.HasFlag(Articulations.Fermata);

    /// <summary>For each note, by how many seconds the fermatas before it have moved it; 0 throughout without a fermata.</summary>
    /// <param name="passage">The notes of the task.</param>
    /// <param name="dueSeconds">Where each is due.</param>
    /// <param name="heardSeconds">Where each was heard; null where it was not.</param>
    public static double[] Of(Passage passage, ReadOnlySpan<double> dueSeconds, ReadOnlySpan<double?> heardSeconds)
    {
        double[] moved = new double[dueSeconds.Length];
        List<int> holds = [];
        double heardSum = 0;
        double dueSum = 0;
        for (int i = 1; i < moved.Length; i++)
        {
            bool isHeld = BeginsAnew(passage, i);
            if (heardSeconds[i] is not { } heard || heardSeconds[i - 1] is not { } before || !(dueSeconds[i] > dueSeconds[i - 1]))
            {
                continue;
            }

            if (isHeld)
            {
                holds.Add(i);
            }
            else if (passage.Notes[i].TimingJudged && ((heard - before) / (dueSeconds[i] - dueSeconds[i - 1])) is > 0.5 and < 2)
            {
                heardSum += heard - before;
                dueSum += dueSeconds[i] - dueSeconds[i - 1];
            }
        }

        double stretch = dueSum > 0 ? heardSum / dueSum : 1;
        foreach (int hold in holds)
        {
            double held = heardSeconds[hold]!.Value - heardSeconds[hold - 1]!.Value - (stretch * (dueSeconds[hold] - dueSeconds[hold - 1]));
            for (int i = hold; i < moved.Length; i++)
            {
                moved[i] += held;
            }
        }

        return moved;
    }
}
