"""Facts as sentences, a module for each subject: what is printed, what is read aloud, and what a terminal says."""
