using EarCoach.Core.Passages;

namespace EarCoach.App.Web.Practice;

/// <summary>A passage as MusicXML for the page's engraver: in written pitch, with an id on each note, beams as the metre asks.</summary>
internal static class EngravedScore
{
    /// <summary>Media type of uncompressed MusicXML.</summary>
    public const string MediaType = "application/vnd.recordare.musicxml+xml";

    /// <summary>The score. Note n bears the id "n" + n; its tied continuations "n" + n + "-2" and so on.</summary>
    public static string Of(Passage passage) => throw new NotSupportedException(passage.Title);
}
