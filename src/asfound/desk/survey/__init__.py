"""The survey of a finish: the map, a panel, entering and uploading readings."""
