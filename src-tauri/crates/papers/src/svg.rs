//! Marks as SVG, one string a page: what a screen shows of a paper before it is printed, and what a browser prints.
//!
//! Lengths are tenths of a millimetre, so that no letter is smaller than a browser's least size. Letters are text in the
//! page's own IBM Plex Sans, held to the widths of the paper; a screen reader finds headings and pictures as in the PDF.

use core::fmt::Write;

use base64::Engine;
use base64::engine::general_purpose::STANDARD;
use quick_xml::escape::escape;

use crate::PaperSize;
use crate::colour::{INK, Rgb};
use crate::draw::{Stroke, crescent, outline, pitch, strokes};
use crate::letters::Face;
use crate::marks::{At, Group, Mark, Tag};
use crate::style::{BLACK, Style, TICK_LINE};

/// Units of the picture in a millimetre.
const PER_MM: f64 = 10.0;

/// The pages, each a whole `svg` element that names itself "`name`, page 2 of 16". Ids within are of this paper alone.
pub fn pages(pages: &[Vec<Group>], size: PaperSize, name: &str) -> Vec<String> {
    let of = pages.len();
    let page = |(index, groups): (usize, &Vec<Group>)| {
        let mut sheet = Page {
            number: index + 1,
            clips: 0,
            out: String::new(),
        };
        sheet.open(size, name, of);
        for group in groups.iter().filter(|g| !g.marks.is_empty()) {
            sheet.group(group);
        }
        sheet.out.push_str("</svg>");
        sheet.out
    };
    pages.iter().enumerate().map(page).collect()
}

/// A page while it is written.
struct Page {
    number: usize,
    /// clips so far: their ids
    clips: usize,
    out: String,
}

/// A length of the page: a hundredth of a millimetre at the finest.
fn n(mm: f64) -> f64 {
    (mm * PER_MM * 10.0).round() / 10.0
}

fn hex(rgb: Rgb) -> String {
    let [r, g, b] = rgb.0;
    format!("#{r:02x}{g:02x}{b:02x}")
}

fn points(of: &[At]) -> String {
    let pairs: Vec<String> = of
        .iter()
        .map(|p| format!("{},{}", n(p.x), n(p.y)))
        .collect();
    pairs.join(" ")
}

impl Page {
    /// Writing to a string does not fail.
    fn put(&mut self, what: core::fmt::Arguments<'_>) {
        let _ = self.out.write_fmt(what);
    }

    fn open(&mut self, size: PaperSize, name: &str, of: usize) {
        let (width, height) = (n(size.width()), n(size.height()));
        let number = self.number;
        let label = escape(format!("{name}, page {number} of {of}")).into_owned();
        self.put(format_args!(
            "<svg xmlns=\"http://www.w3.org/2000/svg\" viewBox=\"0 0 {width} {height}\" role=\"group\" aria-label=\"{label}\" \
             fill=\"none\" stroke-miterlimit=\"10\" xml:space=\"preserve\"><rect width=\"{width}\" height=\"{height}\" fill=\"#fff\"/>"
        ));
    }

    fn group(&mut self, group: &Group) {
        match &group.tag {
            Tag::H1 => self.put(format_args!("<g role=\"heading\" aria-level=\"2\">")),
            Tag::H2 => self.put(format_args!("<g role=\"heading\" aria-level=\"3\">")),
            Tag::P => self.put(format_args!("<g>")),
            Tag::Figure(words) if words.is_empty() => {
                self.put(format_args!("<g aria-hidden=\"true\">"));
            }
            Tag::Figure(words) => {
                let words = escape(words.as_str());
                self.put(format_args!("<g role=\"img\" aria-label=\"{words}\">"));
            }
            Tag::Artifact => self.put(format_args!("<g aria-hidden=\"true\">")),
        }
        for mark in &group.marks {
            self.mark(mark);
        }
        self.out.push_str("</g>");
    }

    fn mark(&mut self, mark: &Mark) {
        match mark {
            Mark::Text {
                at,
                width,
                style,
                text,
            } => self.text(*at, *width, *style, text),
            Mark::Rule {
                from,
                to,
                thickness,
                ink,
            } => self.line(&[*from, *to], *thickness, *ink),
            Mark::Path {
                points,
                thickness,
                ink,
            } => self.line(points, *thickness, *ink),
            Mark::Frame {
                at,
                width,
                height,
                thickness,
                ink,
                fill,
            } => {
                if let Some(rgb) = fill {
                    let (x, y, w, h) = (n(at.x), n(at.y), n(*width), n(*height));
                    let fill = hex(*rgb);
                    self.put(format_args!(
                        "<rect x=\"{x}\" y=\"{y}\" width=\"{w}\" height=\"{h}\" fill=\"{fill}\"/>"
                    ));
                }
                self.box_line(*at, *width, *height, *thickness, *ink);
            }
            Mark::Tick { at, side } => self.box_line(*at, *side, *side, TICK_LINE, BLACK),
            Mark::Picture {
                at,
                width,
                height,
                rows,
            } => {
                let (x, y, w, h) = (n(at.x), n(at.y), n(*width), n(*height));
                let bytes = STANDARD.encode(rows.png());
                self.put(format_args!(
                    "<image x=\"{x}\" y=\"{y}\" width=\"{w}\" height=\"{h}\" preserveAspectRatio=\"none\" href=\"data:image/png;base64,{bytes}\"/>"
                ));
            }
            Mark::Balloon {
                at,
                radius,
                colour,
                pattern,
            } => {
                let edge = outline(*radius);
                let r = radius - edge / 2.0;
                self.disc(*at, r, *colour);
                let marks = strokes(*pattern, r);
                if !marks.is_empty() {
                    self.pattern(*at, r, &marks, colour.ink());
                }
                self.ring(*at, r, edge, INK);
            }
        }
    }

    fn text(&mut self, at: At, width: f64, style: Style, text: &str) {
        if text.trim().is_empty() {
            return;
        }
        let (x, y, long, size) = (n(at.x), n(at.y), n(width), n(style.em()));
        let weight = match style.face {
            Face::Regular => 400,
            Face::SemiBold => 600,
        };
        let (fill, text) = (hex(style.ink), escape(text));
        let spacing = if style.tracking == 0.0 {
            String::new()
        } else {
            let wide = n(style.tracking * style.em());
            format!(" letter-spacing=\"{wide}\"")
        };
        self.put(format_args!(
            "<text x=\"{x}\" y=\"{y}\" font-size=\"{size}\" font-weight=\"{weight}\" fill=\"{fill}\" textLength=\"{long}\"{spacing}>{text}</text>"
        ));
    }

    fn line(&mut self, along: &[At], thickness: f64, ink: Rgb) {
        let (points, ink, wide) = (points(along), hex(ink), n(thickness));
        self.put(format_args!(
            "<polyline points=\"{points}\" stroke=\"{ink}\" stroke-width=\"{wide}\"/>"
        ));
    }

    /// An outline that lies inside its rectangle.
    fn box_line(&mut self, at: At, width: f64, height: f64, thickness: f64, ink: Rgb) {
        if thickness <= 0.0 {
            return;
        }
        let half = thickness / 2.0;
        let (x, y) = (n(at.x + half), n(at.y + half));
        let (w, h) = (
            n((width - thickness).max(0.0)),
            n((height - thickness).max(0.0)),
        );
        let (ink, wide) = (hex(ink), n(thickness));
        self.put(format_args!(
            "<rect x=\"{x}\" y=\"{y}\" width=\"{w}\" height=\"{h}\" stroke=\"{ink}\" stroke-width=\"{wide}\"/>"
        ));
    }

    fn disc(&mut self, at: At, r: f64, fill: Rgb) {
        let (x, y, r, fill) = (n(at.x), n(at.y), n(r), hex(fill));
        self.put(format_args!(
            "<circle cx=\"{x}\" cy=\"{y}\" r=\"{r}\" fill=\"{fill}\"/>"
        ));
    }

    fn ring(&mut self, at: At, r: f64, thickness: f64, ink: Rgb) {
        let (x, y, r) = (n(at.x), n(at.y), n(r));
        let (ink, wide) = (hex(ink), n(thickness));
        self.put(format_args!(
            "<circle cx=\"{x}\" cy=\"{y}\" r=\"{r}\" stroke=\"{ink}\" stroke-width=\"{wide}\"/>"
        ));
    }

    fn pattern(&mut self, at: At, radius: f64, marks: &[Stroke], ink: Rgb) {
        let moved = |of: &[At]| of.iter().map(|p| at.by(p.x, p.y)).collect::<Vec<At>>();
        let edge = moved(&crescent(radius));
        self.clips += 1;
        let id = format!("clip{}-{}", self.number, self.clips);
        let (start, curves) = edge.split_at(edge.len().min(1));
        let (start, curves) = (points(start), points(curves));
        self.put(format_args!(
            "<clipPath id=\"{id}\"><path d=\"M{start}C{curves}Z\"/></clipPath><g clip-path=\"url(#{id})\">"
        ));
        let thick = pitch(radius).1;
        for mark in marks {
            match mark {
                Stroke::Line(points) => self.line(&moved(points), thick, ink),
                Stroke::Dot(p, r) => self.disc(at.by(p.x, p.y), *r, ink),
                Stroke::Ring(r) => self.ring(at, *r, thick, ink),
                Stroke::Area(corners) => {
                    let (points, ink) = (points(&moved(corners)), hex(ink));
                    self.put(format_args!(
                        "<polygon points=\"{points}\" fill=\"{ink}\"/>"
                    ));
                }
            }
        }
        self.out.push_str("</g>");
    }
}

#[cfg(test)]
pub mod tests {
    use std::collections::BTreeSet;

    use quick_xml::Reader;
    use quick_xml::events::{BytesStart, Event};

    use super::*;
    use crate::doc::Doc;

    /// Pages that are well-formed, say every text in its order, and clip by what is there.
    pub fn check(doc: &Doc, size: PaperSize) {
        let pages = super::pages(&doc.pages, size, "A \"paper\" & more");
        assert_eq!(pages.len(), doc.pages.len());
        let mut ids = BTreeSet::new();
        for (svg, groups) in pages.iter().zip(&doc.pages) {
            let texts = groups
                .iter()
                .flat_map(|g| &g.marks)
                .filter_map(|m| match m {
                    Mark::Text { text, .. } if !text.trim().is_empty() => Some(text.as_str()),
                    _ => None,
                });
            assert_eq!(read(svg, &mut ids), texts.collect::<Vec<_>>());
        }
    }

    /// The texts of a page; its ids go to the others.
    fn read(svg: &str, ids: &mut BTreeSet<String>) -> Vec<String> {
        let mut reader = Reader::from_str(svg);
        let (mut texts, mut inside): (Vec<String>, bool) = (Vec::new(), false);
        loop {
            match reader.read_event().unwrap() {
                Event::Start(tag) => {
                    inside = tag.name().as_ref() == "text";
                    if inside {
                        texts.push(String::new());
                    }
                    if let Some(id) = attribute(&tag, "id") {
                        assert!(ids.insert(id.clone()), "{id} twice");
                    }
                    if let Some(clip) = attribute(&tag, "clip-path") {
                        let id = clip.trim_start_matches("url(#").trim_end_matches(')');
                        assert!(ids.contains(id), "{clip} names nothing");
                    }
                }
                Event::Text(text) if inside => {
                    texts.last_mut().unwrap().push_str(&text);
                }
                Event::GeneralRef(named) if inside => {
                    let name = format!("&{};", &*named);
                    let meant = quick_xml::escape::unescape(&name).unwrap().into_owned();
                    texts.last_mut().unwrap().push_str(&meant);
                }
                Event::End(_) => inside = false,
                Event::Eof => return texts,
                _ => {}
            }
        }
    }

    fn attribute(tag: &BytesStart<'_>, name: &str) -> Option<String> {
        let found = tag.try_get_attribute(name).unwrap()?;
        Some(found.value.into_owned())
    }

    #[test]
    fn a_mark_stands_where_it_stands_on_paper() {
        let at = At::new(20.0, 30.0);
        let style = crate::style::BODY;
        let marks = vec![
            Mark::Text {
                at,
                width: 12.34,
                style,
                text: "5 < 6 & \"so on\"".into(),
            },
            Mark::Tick { at, side: 5.0 },
            Mark::Balloon {
                at,
                radius: 4.0,
                colour: Rgb([200, 10, 20]),
                pattern: job::stock::Pattern::Plain,
            },
        ];
        let groups = vec![vec![Group::new(Tag::P, marks)]];
        let page = super::pages(&groups, PaperSize::A4, "Labels").remove(0);
        for part in [
            "viewBox=\"0 0 2100 2970\" role=\"group\" aria-label=\"Labels, page 1 of 1\"",
            // 10.5 points are 3.704 mm
            "<text x=\"200\" y=\"300\" font-size=\"37\" font-weight=\"400\" fill=\"#000000\" textLength=\"123.4\">5 &lt; 6 &amp; &quot;so on&quot;</text>",
            // the outline of 0.45 mm lies inside
            "<rect x=\"202.3\" y=\"302.3\" width=\"45.5\" height=\"45.5\" stroke=\"#000000\" stroke-width=\"4.5\"/>",
            "<circle cx=\"200\" cy=\"300\" r=\"38.2\" fill=\"#c80a14\"/>",
        ] {
            assert!(page.contains(part), "{part} is not in {page}");
        }
    }
}
