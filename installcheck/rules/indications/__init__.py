"""Rules of what the pilot sees: errors against budgets and limits, scales, marks, what is required, what one part takes out."""
