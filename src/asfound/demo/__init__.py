"""An invented car of an invented marque."""
