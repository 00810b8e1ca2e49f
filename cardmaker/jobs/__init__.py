"""What the commands do: a module for each command, and what they share (lookup, loading, carrying, parallel work)."""
