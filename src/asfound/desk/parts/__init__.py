"""The register of parts: entered at the bench, found in seconds, never lost."""
