namespace EarCoach.Scores;

/// <summary>Why a score could not be used: what a caller branches on.</summary>
public enum ScoreFailure
{
    /// <summary>The bytes are not of this format at all.</summary>
    NotThisFormat,

    /// <summary>The file ends before its content does.</summary>
    Truncated,

    /// <summary>The file breaks a rule of its format.</summary>
    Malformed,

    /// <summary>The file is well formed, but says something that is not understood here.</summary>
    Unsupported,

    /// <summary>The file, or what it unpacks to, is larger than a stated limit.</summary>
    TooLarge,

    /// <summary>There are no notes to read.</summary>
    NoNotes,

    /// <summary>Several notes sound at once where one line was asked for.</summary>
    Polyphony,

    /// <summary>There are several parts to choose from, and none was chosen.</summary>
    PartNotChosen,

    /// <summary>The chosen part is not in the file.</summary>
    PartNotFound,

    /// <summary>The passage cannot be written exactly in this format.</summary>
    NotWritable,
}
