"""What the user writes: one scene in TOML, with a unit on every quantity and one clear error per field."""
