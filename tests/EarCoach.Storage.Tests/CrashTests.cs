using System.Diagnostics;
using System.Globalization;
using EarCoach.Core.Drills;
using EarCoach.Core.Judging;
using EarCoach.Engine.Ports;
using FluentAssertions;
using Xunit;
using Xunit.Abstractions;

namespace EarCoach.Storage.Tests;

/// <summary>Kills a writing process at random moments (SIGKILL; TerminateProcess on Windows) and looks for everything it had said.</summary>
public sealed class CrashTests(ITestOutputHelper output)
{
    private const int Kills = 60;

    [Fact]
    public void WhateverWasToldBeforeAKill_IsStoredWithItsClip_AndTheCountGoesOn()
    {
        using TemporaryFolder folder = new();
        Random random = new(20260302);
        SortedDictionary<int, (string Verdict, int Seals, int Count)> told = [];
        for (int kill = 0; kill < Kills; kill++)
        {
            foreach (string line in RunAndKill(folder.Path, random))
            {
                string[] words = line.Split(' ');
                int number = int.Parse(words[0], CultureInfo.InvariantCulture);
                told.Should().NotContainKey(number, "a number is told once, after a restart too");
                told.Add(number, (words[1], int.Parse(words[2], CultureInfo.InvariantCulture), int.Parse(words[3], CultureInfo.InvariantCulture)));
            }
        }

        using SqliteStore store = SqliteStore.Open(folder.Path);
        SessionRecord record = store.Attempts.NewestUnfinished()!;
        IReadOnlyList<JudgedAttempt> attempts = store.Attempts.AttemptsOf(record.Start.SessionId);
        output.WriteLine($"{Kills} kills, {told.Count} verdicts told, {attempts.Count} stored");
        told.Should().HaveCountGreaterThan(Kills);

        // No hole, nothing told that is not stored; what was stored but not told yet when it was killed: at most one a kill.
        attempts.Select(attempt => attempt.Number).Should().Equal(Enumerable.Range(1, attempts.Count));
        record.Log.Select(entry => entry.Number).Should().Equal(Enumerable.Range(1, attempts.Count));
        told.Keys.Max().Should().BeLessThanOrEqualTo(attempts.Count);
        (attempts.Count - told.Count).Should().BeInRange(0, Kills);

        Drill drill = new([.. record.Start.Passages.Select(passage => passage.Passage)]);
        DrillState state = drill.Start(record.Start.Plan);
        foreach (LoggedInput entry in record.Log)
        {
            state = drill.Reduce(state, entry.Input).Next;
            FaultNames.Of(attempts[entry.Number - 1].Result.Verdict).Should().Be(FaultNames.Of(CrashWriter.VerdictOf(entry.Number)));
            CheckClip(store.Attempts.ClipOf(record.Start.SessionId, entry.Number), entry.Number);
            if (told.TryGetValue(entry.Number, out (string Verdict, int Seals, int Count) shown))
            {
                DrillView view = drill.ViewOf(state);
                shown.Should().Be((FaultNames.Of(CrashWriter.VerdictOf(entry.Number)), view.Seals, view.Count));
            }
        }
    }

    private static void CheckClip(byte[]? wav, int number)
    {
        wav.Should().NotBeNull($"attempt {number} has its clip");
        wav!.Length.Should().Be(44 + (2 * 2 * CrashWriter.RateHz)); // a second, and half a second at either end
        BitConverter.ToInt16(wav, 44 + (2 * CrashWriter.RateHz)).Should().Be(CrashWriter.LoudnessOf(number));
    }

    private static List<string> RunAndKill(string folder, Random random)
    {
        using Process writer = Process.Start(new ProcessStartInfo(Environment.ProcessPath is { } host && Path.GetFileNameWithoutExtension(host) == "dotnet" ? host : "dotnet")
        {
            ArgumentList = { "exec", typeof(CrashWriter).Assembly.Location, "write", folder },
            RedirectStandardOutput = true,
            RedirectStandardError = true,
        })!;
        Task<string> errors = writer.StandardError.ReadToEndAsync();
        List<string> lines = [];
        string? first = writer.StandardOutput.ReadLine();
        first.Should().NotBeNull(because: writer.HasExited ? errors.Result : "the writer says its first verdict");
        lines.Add(first!);
        Thread.Sleep(random.Next(0, 120));
        writer.Kill();
        while (writer.StandardOutput.ReadLine() is { } line)
        {
            lines.Add(line);
        }

        writer.WaitForExit();
        return lines.Count > 0 && lines[^1].Count(letter => letter == ' ') < 3 ? lines[..^1] : lines; // a line cut off was not shown
    }
}
