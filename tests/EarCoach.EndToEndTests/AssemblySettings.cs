using Xunit;

// Each test has a browser that listens in real time: side by side they would only slow each other down.
[assembly: CollectionBehavior(DisableTestParallelization = true)]
