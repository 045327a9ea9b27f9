"""What a person takes in hand: one module per form."""
