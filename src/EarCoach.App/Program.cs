using System.Runtime.InteropServices;
using EarCoach.App.Commands;
using EarCoach.App.Web;

using var stop = new CancellationTokenSource();
using PosixSignalRegistration interrupted = PosixSignalRegistration.Create(PosixSignal.SIGINT, Stop);
using PosixSignalRegistration terminated = PosixSignalRegistration.Create(PosixSignal.SIGTERM, Stop);
return await CommandLine.RunAsync(args, Streams.OfProcess(), WebHost.RunAsync, stop.Token);

void Stop(PosixSignalContext signal)
{
    signal.Cancel = true;
    stop.Cancel();
}
