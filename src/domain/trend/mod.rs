//! The trend room.
