"""The car's record: its tables, its models, what is read and written."""
