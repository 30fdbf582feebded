"""Work cards: what a person does today, with time, materials, results, and what it came to."""
