"""A photograph or scan of the end grain: the outline of the wood found in it, as points with their accuracy."""
