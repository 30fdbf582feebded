"""The small tables that readings are held against, each edited whole on a page of its own."""
