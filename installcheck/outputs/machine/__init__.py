"""Forms for other programs: JSON, SARIF, JUnit, CSV, XLSX, schemas."""
