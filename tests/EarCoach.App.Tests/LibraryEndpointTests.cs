using System.Net;
using System.Net.Http.Json;
using System.Text;
using System.Text.Json;
using EarCoach.App.Web;
using EarCoach.Core.Passages;
using EarCoach.Scores;
using EarCoach.Scores.Midi;
using EarCoach.Storage;
using FluentAssertions;
using Microsoft.AspNetCore.Builder;
using Xunit;

namespace EarCoach.App.Tests;

/// <summary>The library over HTTP, as the page speaks with it.</summary>
public sealed class LibraryEndpointTests : IAsyncLifetime, IDisposable
{
    private readonly string _folder = Directory.CreateTempSubdirectory("earcoach-library-").FullName;
    private SqliteStore _store = null!;
    private WebApplication _app = null!;
    private HttpClient _client = null!;

    public async Task InitializeAsync()
    {
        _store = SqliteStore.Open(_folder);
        _app = await WebHost.StartAsync(new WebOptions { Port = 0, OpenBrowser = false }, _store, CancellationToken.None);
        _client = new HttpClient { BaseAddress = WebHost.AddressOf(_app) };
    }

    public async Task DisposeAsync()
    {
        await _app.StopAsync();
        await _app.DisposeAsync();
    }

    public void Dispose()
    {
        _client.Dispose();
        _store.Dispose();
        Directory.Delete(_folder, recursive: true);
    }

    // Source: published transposition table (see InstrumentTableTests): a horn in F sounds a perfect fifth lower, 7 semitones.
    [Fact]
    public async Task AMidiFile_OfWrittenPitches_IsKeptAtSoundingPitch()
    {
        string id = await ImportAsync(MidiPassageWriter.ToBytes(Quarters(60, 64, 67)), "?name=a.mid&instrument=horn-f&pitches=written&title=Heard&tags=a,%20b%20,a");

        JsonElement passage = await _client.GetFromJsonAsync<JsonElement>($"/api/library/{id}");
        passage.GetProperty("title").GetString().Should().Be("Heard");
        passage.GetProperty("tags").EnumerateArray().Select(tag => tag.GetString()).Should().Equal("a", "b");
        passage.GetProperty("notes").EnumerateArray().Select(note => (note.GetProperty("written").GetString(), note.GetProperty("sounding").GetString()))
            .Should().Equal(("C4", "F3"), ("E4", "A3"), ("G4", "C4"));
    }

    [Fact]
    public async Task AnExcerpt_KeepsBarNumbersAndLink_AndEveryExportReadsBack()
    {
        string id = await ImportAsync(MidiPassageWriter.ToBytes(Quarters([.. Enumerable.Range(60, 16)])), "?name=a.mid");
        JsonElement cut = await PostAsync($"/api/library/{id}/excerpts", new { first = 4, last = 11 });
        Guid cutId = cut.GetProperty("id").GetGuid();

        _store.Passages.Find(cutId)!.PartId.Should().Be(Guid.Parse(id));
        _store.Passages.Find(cutId)!.PartNotes.Should().Be(new NoteRange(4, 11));
        JsonElement shown = await _client.GetFromJsonAsync<JsonElement>($"/api/library/{cutId}");
        shown.GetProperty("notes").EnumerateArray().Select(note => note.GetProperty("bar").GetInt32()).Should().Equal(2, 2, 2, 2, 3, 3, 3, 3);
        foreach (string format in (string[])["midi", "musicxml", "mxl"])
        {
            foreach (string query in (string[])["", "&first=2&last=5", "&variant=2a", "&variant=2a&scaling=ShortsAtTarget"])
            {
                byte[] file = await _client.GetByteArrayAsync($"/api/passages/{cutId}/export?format={format}{query}");
                Passage expected = ExpectedOf(_store.Passages.Find(cutId)!.Passage, query);
                ScoreFile.Read(file).Passage.Notes.Select(note => (note.MidiPitch, note.Onset, note.Length))
                    .Should().Equal(expected.Notes.Select(note => (note.MidiPitch, note.Onset, note.Length)), because: $"{format}{query}");
            }
        }
    }

    [Fact]
    public async Task WhatCannotBe_IsAnsweredInASentence()
    {
        string id = await ImportAsync(MidiPassageWriter.ToBytes(Quarters(60, 62)), "?name=a.mid");
        await RefusedAsync(_client.PutAsJsonAsync($"/api/library/{id}", new { title = "x", tags = Array.Empty<string>(), strictness = new { cents = 1, semitoneOnly = false } }), "1 cents");
        await RefusedAsync(_client.PutAsJsonAsync($"/api/library/{id}", new { title = "x", goalQuartersPerMinute = 2 }), "goal tempo is 2");
        await RefusedAsync(_client.PutAsJsonAsync($"/api/library/{id}", new { title = new string('x', 201) }), "201 characters");
        await RefusedAsync(_client.PostAsJsonAsync($"/api/library/{id}/notes", new { first = 0, last = 9, timingJudged = false, oldBassClef = false, keepWritten = false }), "notes 1 to 2");
        await RefusedAsync(_client.PostAsJsonAsync($"/api/library/{id}/notes", new { first = 0, last = 1, required = false, oldBassClef = false, keepWritten = false }), "at least one note");
        await RefusedAsync(_client.PostAsJsonAsync($"/api/library/{id}/notes", new { first = 0, last = 1, crookId = "eb", oldBassClef = false, keepWritten = false }), "Only a horn part");
        await RefusedAsync(_client.GetAsync(new Uri($"/api/passages/{id}/export?format=doc", UriKind.Relative)), "midi, musicxml or mxl");
        await RefusedAsync(_client.GetAsync(new Uri($"/api/passages/{id}/score?variant=zz", UriKind.Relative)), "no rhythm 'zz'");
        await RefusedAsync(_client.PostAsJsonAsync("/api/typed/preview", new { text = "C4/4 H", isWritten = false }), "line 1, column 6");
        await RefusedAsync(_client.PostAsync(new Uri("/api/import/contents", UriKind.Relative), new ByteArrayContent("no score"u8.ToArray())), "MIDI begins with MThd");
        using HttpResponseMessage gone = await _client.GetAsync(new Uri($"/api/library/{Guid.NewGuid()}", UriKind.Relative));
        gone.StatusCode.Should().Be(HttpStatusCode.NotFound);
    }

    [Fact]
    public async Task AFileThatIsTooLarge_IsRefusedWithTheLimit()
    {
        using HttpRequestMessage large = new(HttpMethod.Post, new Uri("/api/import/contents", UriKind.Relative)) { Content = new ByteArrayContent(new byte[(16 * 1024 * 1024) + 1]) };
        large.Headers.ExpectContinue = true; // waits for the answer before the body is sent
        using HttpResponseMessage answer = await _client.SendAsync(large);

        answer.StatusCode.Should().Be(HttpStatusCode.RequestEntityTooLarge);
        (await answer.Content.ReadAsStringAsync()).Should().Contain("16 MB");
    }

    [Fact]
    public async Task SearchAndUndo_WorkOverHttp()
    {
        string id = await ImportAsync(Encoding.UTF8.GetBytes("X:1\nT:Lantern\nL:1/4\nK:C\nC D|\n"), "?name=l.abc&instrument=flute&tags=night");
        (await SearchAsync("NIGHT flute")).Should().Equal("Lantern");
        (await _client.DeleteAsync(new Uri($"/api/library/{id}", UriKind.Relative))).StatusCode.Should().Be(HttpStatusCode.NoContent);
        (await SearchAsync("lantern")).Should().BeEmpty();
        JsonElement undo = (await _client.GetFromJsonAsync<JsonElement>("/api/library/undo")).GetProperty("undo");
        undo.GetProperty("words").GetString().Should().Be("“Lantern” was deleted.");
        using HttpResponseMessage undone = await _client.PostAsJsonAsync("/api/library/undo", undo);
        undone.StatusCode.Should().Be(HttpStatusCode.NoContent);
        (await SearchAsync("lantern")).Should().Equal("Lantern");
        using HttpResponseMessage again = await _client.PostAsJsonAsync("/api/library/undo", undo);
        again.StatusCode.Should().Be(HttpStatusCode.Conflict);
    }

    private static Passage Quarters(params int[] pitches) => new()
    {
        Title = "Invented",
        Notes = [.. pitches.Select((pitch, index) => new PassageNote { MidiPitch = pitch, Onset = index, Length = 1 })],
    };

    private static Passage ExpectedOf(Passage passage, string query) => query switch
    {
        "" => passage,
        "&first=2&last=5" => Excerpt.OfNotes(passage, new NoteRange(2, 5)),
        "&variant=2a" => RhythmVariation.Apply(passage, RhythmVariants.ByCode("2a")!, VariantScaling.EqualTotal),
        _ => RhythmVariation.Apply(passage, RhythmVariants.ByCode("2a")!, VariantScaling.ShortsAtTarget),
    };

    private static async Task RefusedAsync(Task<HttpResponseMessage> asking, string said)
    {
        using HttpResponseMessage answer = await asking;
        string body = await answer.Content.ReadAsStringAsync();
        answer.StatusCode.Should().Be(HttpStatusCode.BadRequest, body);
        JsonDocument.Parse(body).RootElement.GetProperty("message").GetString().Should().Contain(said);
    }

    private async Task<string> ImportAsync(byte[] file, string query)
    {
        using HttpResponseMessage answer = await _client.PostAsync(new Uri($"/api/import/save{query}", UriKind.Relative), new ByteArrayContent(file));
        string body = await answer.Content.ReadAsStringAsync();
        answer.StatusCode.Should().Be(HttpStatusCode.OK, body);
        return JsonDocument.Parse(body).RootElement.GetProperty("id").GetString()!;
    }

    private async Task<JsonElement> PostAsync(string path, object body)
    {
        using HttpResponseMessage answer = await _client.PostAsJsonAsync(path, body);
        answer.EnsureSuccessStatusCode();
        return await answer.Content.ReadFromJsonAsync<JsonElement>();
    }

    private async Task<IEnumerable<string?>> SearchAsync(string words)
    {
        JsonElement library = await _client.GetFromJsonAsync<JsonElement>($"/api/library?search={Uri.EscapeDataString(words)}");
        return library.GetProperty("passages").EnumerateArray().Select(passage => passage.GetProperty("title").GetString());
    }
}
