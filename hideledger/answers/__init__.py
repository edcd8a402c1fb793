"""The answers: one file a question, a finished sheet each."""
