//! Words of the steps: titles that fit, where a piece goes.

use job::piece::Mount;

/// A step's title fits two lines at 60 px: so many characters.
pub const LONGEST_TITLE: usize = 32;
/// A name is cut at the end of a word if that leaves at least this many of its characters.
const KEPT_WORDS: usize = 8;

/// A verb and a name, the name cut to what fits.
pub(super) fn title(before: &str, name: &str, after: &str) -> String {
    let room = LONGEST_TITLE.saturating_sub(before.chars().count() + after.chars().count() + 1);
    // numbers that are longer than any real one are cut as well
    cut(
        &format!("{before} {}{after}", cut(name, room)),
        LONGEST_TITLE,
    )
}

/// A name on one line of at most so many characters.
pub(super) fn cut(name: &str, room: usize) -> String {
    let plain: String = name
        .chars()
        .map(|c| if c.is_control() { ' ' } else { c })
        .collect();
    let words: Vec<&str> = plain.split_whitespace().collect();
    let name = words.join(" ");
    if name.chars().count() <= room {
        return name;
    }
    let kept: String = name.chars().take(room.saturating_sub(1)).collect();
    let inside = name
        .chars()
        .nth(kept.chars().count())
        .is_some_and(|c| c != ' ');
    let kept = match kept.rsplit_once(' ') {
        Some((words, _)) if inside && words.chars().count() >= KEPT_WORDS => words,
        _ => kept.trim_end(),
    };
    format!("{}…", kept.trim_end_matches([',', '.', ':', ';', '-', ' ']))
}

/// What it hangs on and where.
pub(super) fn where_to(mount: Mount, spot: &str) -> String {
    let on = match mount {
        Mount::Frame => "On its frame",
        Mount::Backdrop => "On the backdrop",
        Mount::WallHooks => "On hooks",
        Mount::StairRail => "Along the rail",
        Mount::CeilingPoints => "From the points that the venue names",
        Mount::Grid => "On the grid",
        Mount::Newer => "Where it belongs",
    };
    if spot.trim().is_empty() {
        format!("{on}.")
    } else {
        format!("{on}, {}.", spot.trim())
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn titles_are_cut_to_fit() {
        for (before, name, after, want) in [
            ("Hang length 2 of", "Arch", "", "Hang length 2 of Arch"),
            (
                "Hang length 2 of",
                "The very long garland over the stairs",
                "",
                "Hang length 2 of The very long…",
            ),
            (
                "Pack B12:",
                "Staircasegarlandwithoutspaces",
                ", 2 of 3",
                "Pack B12: Staircasegarl…, 2 of 3",
            ),
            ("Order", "Old rose\n11 in", "", "Order Old rose 11 in"),
            ("Order", " ", "", "Order"),
        ] {
            let title = title(before, name, after);
            assert_eq!(title, want);
            assert!(title.chars().count() <= LONGEST_TITLE);
        }
    }
}
