"""The replay of the printed rows against the stock; shares no code with planning."""
