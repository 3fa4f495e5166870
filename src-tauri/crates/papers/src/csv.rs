//! Tables as text, RFC 4180: commas, lines ended by CR LF, quotes where needed and doubled inside.

/// One table.
#[derive(Default)]
pub struct Csv {
    out: String,
}

impl Csv {
    /// Adds a line.
    pub fn line(&mut self, fields: &[&str]) {
        for (index, field) in fields.iter().enumerate() {
            if index > 0 {
                self.out.push(',');
            }
            self.out.push_str(&quoted(field));
        }
        self.out.push_str("\r\n");
    }

    /// The text.
    pub fn finish(self) -> String {
        self.out
    }
}

/// Quotes a field where it holds a comma, a quote, a line break or a space at an end. A field that a spreadsheet would
/// take for a formula gets an apostrophe before it, because names come from outside.
fn quoted(field: &str) -> String {
    let formula = field.starts_with(['=', '+', '@', '\t', '\r'])
        || (field.starts_with('-') && field.parse::<f64>().is_err());
    let field = if formula {
        format!("'{field}")
    } else {
        field.to_string()
    };
    let plain = !field.contains(['"', ',', '\r', '\n']) && field.trim() == field;
    if plain {
        field
    } else {
        format!("\"{}\"", field.replace('"', "\"\""))
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    // Source: RFC 4180, section 2, rules 1, 5, 6 and 7 with their examples.
    #[test]
    fn fields_are_quoted_as_published() {
        let mut csv = Csv::default();
        csv.line(&["aaa", "bbb", "ccc"]);
        csv.line(&["aaa", "b\r\nbb", "ccc"]);
        csv.line(&["aaa", "b\"bb", "c,c"]);
        assert_eq!(
            csv.finish(),
            "aaa,bbb,ccc\r\naaa,\"b\r\nbb\",ccc\r\naaa,\"b\"\"bb\",\"c,c\"\r\n"
        );
    }

    #[test]
    fn formulas_are_defused_and_numbers_are_not() {
        assert_eq!(quoted("=1+1"), "'=1+1");
        assert_eq!(quoted("-5"), "-5");
        assert_eq!(quoted("-cmd"), "'-cmd");
    }
}
