//! File names that are safe on every system, and fresh ids.

/// Longest name without its ending, in characters.
const LONGEST: usize = 60;
/// Names that Windows keeps for devices.
const RESERVED: [&str; 22] = [
    "con", "prn", "aux", "nul", "com1", "com2", "com3", "com4", "com5", "com6", "com7", "com8",
    "com9", "lpt1", "lpt2", "lpt3", "lpt4", "lpt5", "lpt6", "lpt7", "lpt8", "lpt9",
];

/// A file name from a job's name: no separators, control characters, direction marks or reserved names.
pub(crate) fn file_name(name: &str, fallback: &str, ending: &str) -> String {
    let kept: String = name
        .chars()
        .filter(|c| !is_mark(*c))
        .map(|c| {
            if c.is_control() || "/\\:*?\"<>|".contains(c) {
                ' '
            } else {
                c
            }
        })
        .collect();
    let words: Vec<&str> = kept.split_whitespace().collect();
    let joined: String = words.join(" ").chars().take(LONGEST).collect();
    let trimmed = joined.trim_matches(['.', ' ']);
    let stem = trimmed.split('.').next().unwrap_or_default().to_lowercase();
    if trimmed.is_empty() || RESERVED.contains(&stem.as_str()) {
        return format!("{fallback}{ending}");
    }
    format!("{trimmed}{ending}")
}

/// Zero-width and direction characters, which can make a name read as another one.
fn is_mark(c: char) -> bool {
    matches!(c, '\u{200b}'..='\u{200f}' | '\u{202a}'..='\u{202e}' | '\u{2060}'..='\u{2069}' | '\u{feff}')
}

#[cfg(test)]
mod tests {
    use super::file_name;

    #[test]
    fn names_are_safe_on_every_system() {
        for (name, want) in [
            ("Summer fête", "Summer fête.pdf"),
            ("a/b\\c:d", "a b c d.pdf"),
            ("../../etc/passwd", "etc passwd.pdf"),
            ("evil\u{202e}fdp.exe", "evilfdp.exe.pdf"),
            ("CON", "job.pdf"),
            ("nul.txt", "job.pdf"),
            ("   ", "job.pdf"),
            ("...", "job.pdf"),
            ("line\nbreak", "line break.pdf"),
        ] {
            assert_eq!(file_name(name, "job", ".pdf"), want, "{name:?}");
        }
        assert_eq!(file_name(&"x".repeat(500), "job", "").chars().count(), 60);
    }
}
