"""The account: figures and the PDF."""
