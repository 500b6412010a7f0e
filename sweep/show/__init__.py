"""What the maker sees and keeps: tables, pictures, meshes, and the folder that a run leaves."""
