"""Will it hold, stay put, move, and stay safe."""
