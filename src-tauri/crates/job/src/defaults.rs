//! Starting values: a stockroom, people, kit and prices of our own invention.
