namespace EarCoach.App.Commands;

/// <summary>Standard input whose waiting read ends when it is closed: a read of a pipe or a terminal cannot be called off by itself.</summary>
internal sealed class InterruptibleInput(Stream input) : Stream
{
    private readonly CancellationTokenSource _closed = new();
    private readonly byte[] _buffer = new byte[16_384];
    private int _from;
    private int _to;

    public override bool CanRead => true;

    public override bool CanSeek => false;

    public override bool CanWrite => false;

    public override long Length => throw new NotSupportedException();

    public override long Position { get => throw new NotSupportedException(); set => throw new NotSupportedException(); }

    public override int Read(byte[] buffer, int offset, int count) => Read(buffer.AsSpan(offset, count));

    public override int Read(Span<byte> buffer)
    {
        if (_from == _to)
        {
            // The read goes on in the background when this is closed meanwhile; what it brings is nobody's then.
            Task<int> read = Task.Run(() => input.Read(_buffer));
            try
            {
                read.Wait(_closed.Token);
            }
            catch (OperationCanceledException)
            {
                return 0;
            }
            catch (AggregateException e) when (e.InnerException is IOException cause)
            {
                throw new IOException(cause.Message, cause);
            }

            (_from, _to) = (0, read.Result);
        }

        int count = Math.Min(buffer.Length, _to - _from);
        _buffer.AsSpan(_from, count).CopyTo(buffer);
        _from += count;
        return count;
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
        _closed.Cancel();
        base.Dispose(disposing);
    }
}
