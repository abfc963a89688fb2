"""What hangs at the presses and in the screen room: sheets, pull lists, calendars, all from one plan."""
