namespace EarCoach.App.Web.Library;

/// <summary>What the player chose about a file that is imported. What is null stays as the file says.</summary>
/// <param name="Name">Name of the file.</param>
/// <param name="Line">Which line of it, from 0.</param>
/// <param name="Title">What the passage is called.</param>
/// <param name="Instrument">Id of the instrument; "": not known.</param>
/// <param name="Crook">Id of the crook of a horn part.</param>
/// <param name="Pitches">"sounding", "written" (for that instrument) or "file": as the file says.</param>
/// <param name="Repeats">"once": every bar comes once.</param>
/// <param name="Graces">"dropped": grace notes are left out.</param>
/// <param name="Tags">Tags, with commas between.</param>
internal sealed record ImportChoice(string? Name, int? Line, string? Title, string? Instrument, string? Crook, string? Pitches, string? Repeats, string? Graces, string? Tags);
