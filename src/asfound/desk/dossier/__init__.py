"""The dossier: making and fetching it."""
