"""What a person types and sees: arguments, commands, streams, progress, exit status."""
