"""What a person types and sees: arguments, commands, streams, exit status."""
