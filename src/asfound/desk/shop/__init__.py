"""The plan of the whole shop: adopted, made anew, on the wall, in calendars."""
