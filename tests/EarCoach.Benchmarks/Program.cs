using BenchmarkDotNet.Running;
using EarCoach.Benchmarks;

BenchmarkSwitcher.FromAssembly(typeof(EarBenchmarks).Assembly).Run(args);
