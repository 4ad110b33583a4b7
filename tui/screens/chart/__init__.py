"""The song in bars: hard spots found, pinned, looped, and bars rewritten."""
