//! The shims room.
