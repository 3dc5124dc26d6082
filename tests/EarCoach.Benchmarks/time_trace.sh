#!/usr/bin/env bash
# Times `earcoach trace` against `aubiopitch` (Debian: aubio-tools) on the same 60 s of sound, as whole processes, start to end, in turn.
# Usage: tests/EarCoach.Benchmarks/time_trace.sh [RUNS]
set -euo pipefail
cd "$(dirname "$0")/../.."
runs=${1:-9}
command -v aubiopitch >/dev/null || { echo "aubiopitch is missing: apt-get install aubio-tools" >&2; exit 1; }
folder=$(mktemp -d)
trap 'rm -rf "$folder"' EXIT

# Ahead-of-time code for a short start; a lock file of its own, for this restore names a runtime.
dotnet publish src/EarCoach.App -c Release -r linux-x64 --self-contained false -p:PublishReadyToRun=true \
  -p:NuGetLockFilePath=obj/ready-to-run.lock.json -o "$folder/app" >"$folder/publish.log" || { cat "$folder/publish.log" >&2; exit 1; }

python3 - "$folder" "$runs" <<'PYTHON'
import statistics, subprocess, sys, time, wave
folder, runs = sys.argv[1], int(sys.argv[2])
sound = folder + "/sixty-seconds.wav"
with wave.open("reference-audio/horn-valley-call.wav") as f, wave.open(sound, "wb") as g:
    g.setparams(f.getparams())
    g.writeframes(f.readframes(60 * f.getframerate()))
commands = {
    "earcoach trace": [folder + "/app/earcoach", "trace", sound, "--csv"],
    "aubiopitch": ["aubiopitch", sound],
    "aubiopitch -p yinfast": ["aubiopitch", "-p", "yinfast", sound],
}
seconds = {name: [] for name in commands}
for run in range(runs + 1):
    for name, command in commands.items():
        began = time.perf_counter()
        subprocess.run(command, check=True, stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL)
        if run:                      # the first run warms the file cache
            seconds[name].append(time.perf_counter() - began)
own = statistics.median(seconds["earcoach trace"])
for name, each in seconds.items():
    median = statistics.median(each)
    print(f"{name:24} median {median * 1000:7.0f} ms  (lowest {min(each) * 1000:.0f}, highest {max(each) * 1000:.0f}, {runs} runs)"
          + ("" if name.startswith("earcoach") else f"  earcoach takes {own / median:.2f} times as long"))
PYTHON
