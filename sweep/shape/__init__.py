"""Pure geometry, no wood: the frames, the tool, the feed, the exact section, the solid."""
