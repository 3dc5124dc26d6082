using System.Collections.Immutable;
using System.Globalization;
using System.Text;
using EarCoach.Core.Drills;
using EarCoach.Core.Passages;
using EarCoach.Scores.MusicXml;

namespace EarCoach.App.Web.Practice;

/// <summary>The notation that is shown for a task: the passage as written with the task's notes in it, or the task itself where it changes the rhythm.</summary>
internal static class ShownScore
{
    /// <summary>Media type of uncompressed MusicXML.</summary>
    public const string MediaType = "application/vnd.recordare.musicxml+xml";

    private static readonly MusicXmlWriteOptions _forShowing = new() { ForShowing = true };

    /// <summary>Whether the task is no excerpt of the passage as written.</summary>
    public static bool IsAltered(DrillTask task) => task.VariantCode is not null || task.HoldLast;

    /// <summary>A passage for the page's engraver, in written pitch; note n bears the id "n" + n.</summary>
    public static string Of(Passage passage) => Encoding.UTF8.GetString(MusicXmlPassageWriter.ToBytes(passage, _forShowing));

    /// <summary>The notes that are shown.</summary>
    /// <exception cref="ArgumentException">The task names what is not there.</exception>
    public static Passage PassageOf(DrillTask task, ImmutableArray<Passage> passages) =>
        IsAltered(task) ? TaskPassage.JudgingTaskOf(task, passages).Passage : passages[task.PassageIndex];

    /// <summary>Where the page finds it. The same notation has the same address.</summary>
    public static string AddressOf(Guid sessionId, DrillTask task)
    {
        string address = string.Create(CultureInfo.InvariantCulture, $"/api/sessions/{sessionId}/score?passage={task.PassageIndex}");
        return IsAltered(task)
            ? string.Create(CultureInfo.InvariantCulture, $"{address}&first={task.FirstNote}&count={task.NoteCount}&variant={Uri.EscapeDataString(task.VariantCode ?? "")}&scaling={task.Scaling}&scope={task.Scope}&holdLast={task.HoldLast}")
            : address;
    }
}
