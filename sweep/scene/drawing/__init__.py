"""A profile from a drawing: `read` asks a bounded `child` process, which reads `dxf` and `svg`."""
