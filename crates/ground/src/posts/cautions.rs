//! What every card on posts and earthworks says first.

/// What the numbers are.
pub const PLANNING: &str = "Planning aid only, not a design and not for a permit: the frame, its joints and the post itself are not checked.";
/// Before the ground is opened.
pub const SERVICES: &str = "Locate buried services before digging or driving; your own pipes and cables will not be marked for you. Look up for power lines.";
/// Who decides.
pub const AUTHORITY: &str = "Local code and its official come first, then the structure maker's anchoring instructions, then a licensed engineer, then this.";
/// What concrete may change.
pub const COLLAR: &str = "A concrete collar may change what permit a tunnel needs: ask before pouring.";

/// The cautions of every method on posts.
pub const POSTS: &[&str] = &[PLANNING, SERVICES, AUTHORITY, COLLAR];

/// Before anyone steps into a hole.
pub const TRENCH: &str = "Never enter an unsupported trench: a person can be buried at 1.2 m. From 1.5 m on it must be sloped, shored or shielded whatever the ground.";
/// The cautions of every method on earthworks.
pub const EARTHWORKS: &[&str] = &[PLANNING, SERVICES, AUTHORITY, COLLAR, TRENCH];
