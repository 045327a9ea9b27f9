"""The review record as one HTML file or a PDF."""
