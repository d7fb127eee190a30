//! The yard on disk.
