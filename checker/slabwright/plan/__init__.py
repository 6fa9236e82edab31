"""The worked plan: design and geometry put together once, lazily and frozen."""
