//! What happens when somebody acts: commands in, state and effects out.
