namespace EarCoach.App.Tests;

/// <summary>Sound from a pipe that does not end: once everything was read it tells so, once, and then waits until it is closed.</summary>
internal sealed class EndlessPipe(ReadOnlyMemory<byte> sound, Action allRead) : Stream
{
    private readonly ManualResetEventSlim _closed = new();
    private int _at;
    private bool _told;

    public bool IsEmpty => _told;

    public override bool CanRead => true;

    public override bool CanSeek => false;

    public override bool CanWrite => false;

    public override long Length => throw new NotSupportedException();

    public override long Position { get => throw new NotSupportedException(); set => throw new NotSupportedException(); }

    public override int Read(byte[] buffer, int offset, int count)
    {
        int left = Math.Min(count, sound.Length - _at);
        if (left == 0)
        {
            if (!_told)
            {
                _told = true;
                allRead();
            }

            _closed.Wait(TimeSpan.FromSeconds(30));
            return 0;
        }

        sound.Span.Slice(_at, left).CopyTo(buffer.AsSpan(offset));
        _at += left;
        return left;
    }

    public override void Flush()
    {
        // nothing is written
    }

    public override long Seek(long offset, SeekOrigin origin) => throw new NotSupportedException();

    public override void SetLength(long value) => throw new NotSupportedException();

    public override void Write(byte[] buffer, int offset, int count) => throw new NotSupportedException();

    protected override void Dispose(bool disposing)
    {
        _closed.Set();
        base.Dispose(disposing);
    }
}
