//! What a person writes down: the job and the books it copies from.
