//! What we tell people: every sentence and every rounding, once, for screen, paper and terminal.
