//! The decide room.
