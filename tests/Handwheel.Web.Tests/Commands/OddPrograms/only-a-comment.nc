(nothing yet)
