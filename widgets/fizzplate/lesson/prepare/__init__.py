"""What a teacher prepares: amounts, timing, what will be visible, the air of the room, sheets."""
