//! Marks into a PDF file.

use std::collections::{BTreeMap, BTreeSet};

use printpdf::{
    Color, DictItem, ExternalStream, ExternalXObject, FontId, Line, LineCapStyle, LineJoinStyle,
    LinePoint, Mm, Op, PaintMode, ParsedFont, PdfDocument, PdfFont, PdfFontHandle, PdfPage,
    PdfSaveOptions, Point, Polygon, PolygonRing, Pt, TextItem, WindingOrder, XObject, XObjectId,
    XObjectTransform,
};

use crate::attach::attach;
use crate::colour::{INK, Rgb};
use crate::doc::Doc;
use crate::draw::{QUARTER, Stroke, crescent, outline, pitch, strokes};
use crate::finish::{Stamp, Tagger, finish, seal};
use crate::letters::{Face, cut};
use crate::marks::{At, Group, Mark, Tag};
use crate::still::Rows;
use crate::style::{BLACK, MM_PER_PT, TICK_LINE};
use crate::{PaperError, PaperSize, Sheet};

/// Writes the file.
pub fn write(doc: &Doc, title: &str, sheet: &Sheet) -> Result<Vec<u8>, PaperError> {
    let mut file = PdfDocument::new(title);
    file.metadata.info.author = sheet.own.name.clone();
    file.metadata.info.creator = "Airwright".into();
    file.metadata.info.producer = "Airwright".into();
    for (face, used) in used_letters(&doc.pages) {
        let font = ParsedFont::from_bytes(&cut(face, &used)?, 0, &mut Vec::new())
            .ok_or(PaperError::inside("the cut typeface could not be read"))?;
        // Names of our own: printpdf's come from a counter that lives as long as the process, so that a second
        // document would differ from the first.
        file.resources
            .fonts
            .map
            .insert(FontId(face.name().into()), PdfFont::new(font));
    }
    let mut tags = Tagger::default();
    let mut pages = Vec::new();
    for (number, groups) in doc.pages.iter().enumerate() {
        let mut page = Page::new(sheet.size);
        page.first_picture = file.resources.xobjects.map.len();
        for group in groups.iter().filter(|g| !g.marks.is_empty()) {
            match &group.tag {
                Tag::H1 => tags.begin(&mut page.ops, number, "H1", None),
                Tag::H2 => tags.begin(&mut page.ops, number, "H2", None),
                Tag::P => tags.begin(&mut page.ops, number, "P", None),
                Tag::Figure(words) => tags.begin(&mut page.ops, number, "Figure", Some(words)),
                Tag::Artifact => Tagger::artifact(&mut page.ops),
            }
            for (index, mark) in group.marks.iter().enumerate() {
                page.draw(mark, group.marks.get(index + 1));
            }
            Tagger::end(&mut page.ops);
        }
        let first = page.first_picture;
        for (n, rows) in std::mem::take(&mut page.pictures).into_iter().enumerate() {
            let object = XObject::External(pixels(rows));
            file.resources
                .xobjects
                .map
                .insert(picture_id(first + n), object);
        }
        let (width, height) = (sheet.size.width(), sheet.size.height());
        pages.push(PdfPage::new(Mm(short(width)), Mm(short(height)), page.ops));
    }
    file.with_pages(pages);
    let options = PdfSaveOptions {
        subset_fonts: false,
        image_optimization: None,
        ..Default::default()
    };
    let mut out = file.to_lopdf_document(&options, &mut Vec::new());
    let stamp = Stamp {
        date: &sheet.pdf_date,
        language: &sheet.language,
    };
    finish(&mut out, &tags.marks, &doc.bookmarks, &stamp)?;
    if let Some(inside) = &doc.attached {
        attach(&mut out, inside, &sheet.pdf_date)?;
    }
    seal(&mut out, title, &stamp);
    out.compress();
    let mut bytes = Vec::new();
    out.save_to(&mut bytes)
        .map_err(|_| PaperError::inside("the file could not be written"))?;
    Ok(bytes)
}

/// A name of our own, as for typefaces.
fn picture_id(n: usize) -> XObjectId {
    XObjectId(format!("picture{n}"))
}

/// An image as its dictionary and rows (ISO 32000-1, 8.9.5 and 7.4.4.4).
fn pixels(rows: Rows) -> ExternalXObject {
    let name = |text: &str| DictItem::Name(text.as_bytes().to_vec());
    let parts = |parts: &[(&str, DictItem)]| {
        let named = parts.iter().map(|(k, v)| (k.to_string(), v.clone()));
        named.collect::<BTreeMap<String, DictItem>>()
    };
    let (width, height) = (i64::from(rows.width), i64::from(rows.height));
    let filtered = parts(&[
        ("Predictor", DictItem::Int(15)),
        ("Colors", DictItem::Int(3)),
        ("BitsPerComponent", DictItem::Int(8)),
        ("Columns", DictItem::Int(width)),
    ]);
    let dict = parts(&[
        ("Type", name("XObject")),
        ("Subtype", name("Image")),
        ("Width", DictItem::Int(width)),
        ("Height", DictItem::Int(height)),
        ("BitsPerComponent", DictItem::Int(8)),
        ("ColorSpace", name("DeviceRGB")),
        ("Interpolate", DictItem::Bool(true)),
        ("Filter", name("FlateDecode")),
        ("DecodeParms", DictItem::Dict { map: filtered }),
    ]);
    ExternalXObject {
        stream: ExternalStream {
            dict,
            content: rows.bytes,
            compress: false,
        },
        width: None,
        height: None,
        dpi: None,
    }
}

/// The letters drawn in each face.
fn used_letters(pages: &[Vec<Group>]) -> BTreeMap<Face, BTreeSet<char>> {
    let mut used: BTreeMap<Face, BTreeSet<char>> = BTreeMap::new();
    for mark in pages.iter().flatten().flat_map(|g| &g.marks) {
        if let Mark::Text { style, text, .. } = mark {
            let letters = used.entry(style.face).or_default();
            letters.insert(' ');
            letters.extend(text.chars());
        }
    }
    used
}

/// Numbers in the file: a thousandth of a point is far below what any printer shows.
fn short(v: f64) -> f32 {
    let rounded = (v * 1000.0).round() / 1000.0;
    rounded as f32
}

fn pt(mm: f64) -> Pt {
    Pt(short(mm / MM_PER_PT))
}

fn colour(rgb: Rgb) -> Color {
    let [r, g, b] = rgb.0.map(|v| short(f64::from(v) / 255.0));
    if rgb.0.iter().all(|v| *v == rgb.0[0]) {
        // greys in one ink, so that a colour printer does not mix them
        return Color::Greyscale(printpdf::Greyscale::new(r, None));
    }
    Color::Rgb(printpdf::Rgb::new(r, g, b, None))
}

/// The operations of one page, and what is set at the moment.
struct Page {
    ops: Vec<Op>,
    height: f64,
    fill: Option<Rgb>,
    ink: Option<Rgb>,
    thickness: Option<f64>,
    tracking: f64,
    pictures: Vec<Rows>,
    /// Pictures on the pages before.
    first_picture: usize,
}

impl Page {
    fn new(size: PaperSize) -> Page {
        Page {
            ops: vec![
                Op::SetLineCapStyle {
                    cap: LineCapStyle::Butt,
                },
                Op::SetLineJoinStyle {
                    join: LineJoinStyle::Miter,
                },
            ],
            height: size.height(),
            fill: None,
            ink: None,
            thickness: None,
            tracking: 0.0,
            pictures: Vec::new(),
            first_picture: 0,
        }
    }

    fn point(&self, at: At) -> Point {
        Point {
            x: pt(at.x),
            y: pt(self.height - at.y),
        }
    }

    fn fill(&mut self, rgb: Rgb) {
        if self.fill != Some(rgb) {
            self.ops.push(Op::SetFillColor { col: colour(rgb) });
            self.fill = Some(rgb);
        }
    }

    fn stroke(&mut self, rgb: Rgb, thickness: f64) {
        if self.ink != Some(rgb) {
            self.ops.push(Op::SetOutlineColor { col: colour(rgb) });
            self.ink = Some(rgb);
        }
        if self.thickness != Some(thickness) {
            self.ops.push(Op::SetOutlineThickness { pt: pt(thickness) });
            self.thickness = Some(thickness);
        }
    }

    fn polygon(&mut self, points: Vec<LinePoint>, mode: PaintMode) {
        self.ops.push(Op::DrawPolygon {
            polygon: Polygon {
                rings: vec![PolygonRing { points }],
                mode,
                winding_order: WindingOrder::NonZero,
            },
        });
    }

    fn corners(&self, points: &[At]) -> Vec<LinePoint> {
        points
            .iter()
            .map(|p| LinePoint {
                p: self.point(*p),
                bezier: false,
            })
            .collect()
    }

    /// Points of cubic curves: the start, then two controls and an end each.
    fn curve(&self, points: &[At]) -> Vec<LinePoint> {
        points
            .iter()
            .enumerate()
            .map(|(i, p)| LinePoint {
                p: self.point(*p),
                bezier: i % 3 != 0,
            })
            .collect()
    }

    fn circle(&self, at: At, r: f64) -> Vec<LinePoint> {
        let k = r * QUARTER;
        self.curve(&[
            at.by(r, 0.0),
            at.by(r, k),
            at.by(k, r),
            at.by(0.0, r),
            at.by(-k, r),
            at.by(-r, k),
            at.by(-r, 0.0),
            at.by(-r, -k),
            at.by(-k, -r),
            at.by(0.0, -r),
            at.by(k, -r),
            at.by(r, -k),
            at.by(r, 0.0),
        ])
    }

    fn line(&mut self, points: &[At]) {
        let line = Line {
            points: self.corners(points),
            is_closed: false,
        };
        self.ops.push(Op::DrawLine { line });
    }

    fn draw(&mut self, mark: &Mark, next: Option<&Mark>) {
        match mark {
            Mark::Text { .. } => self.text(mark, next),
            Mark::Rule {
                from,
                to,
                thickness,
                ink,
            } => {
                self.stroke(*ink, *thickness);
                self.line(&[*from, *to]);
            }
            Mark::Path {
                points,
                thickness,
                ink,
            } => {
                self.stroke(*ink, *thickness);
                self.line(points);
            }
            Mark::Frame {
                at,
                width,
                height,
                thickness,
                ink,
                fill,
            } => {
                if let Some(rgb) = fill {
                    self.fill(*rgb);
                    let points = self.rectangle(*at, *width, *height, 0.0);
                    self.polygon(points, PaintMode::Fill);
                }
                if *thickness > 0.0 {
                    self.stroke(*ink, *thickness);
                    let points = self.rectangle(*at, *width, *height, thickness / 2.0);
                    self.polygon(points, PaintMode::Stroke);
                }
            }
            Mark::Picture {
                at,
                width,
                height,
                rows,
            } => {
                // an image fills the unit square
                let corner = self.point(at.by(0.0, *height));
                self.ops.push(Op::UseXobject {
                    id: picture_id(self.first_picture + self.pictures.len()),
                    transform: XObjectTransform {
                        translate_x: Some(corner.x),
                        translate_y: Some(corner.y),
                        scale_x: Some(pt(*width).0),
                        scale_y: Some(pt(*height).0),
                        no_auto_scale: true,
                        ..XObjectTransform::default()
                    },
                });
                self.pictures.push(rows.clone());
            }
            Mark::Tick { at, side } => {
                self.stroke(BLACK, TICK_LINE);
                let points = self.rectangle(*at, *side, *side, TICK_LINE / 2.0);
                self.polygon(points, PaintMode::Stroke);
            }
            Mark::Balloon {
                at,
                radius,
                colour,
                pattern,
            } => {
                let edge = outline(*radius);
                let r = radius - edge / 2.0;
                self.fill(*colour);
                let disc = self.circle(*at, r);
                self.polygon(disc, PaintMode::Fill);
                let marks = strokes(*pattern, r);
                if !marks.is_empty() {
                    self.pattern(*at, r, &marks, colour.ink());
                }
                self.stroke(INK, edge);
                let ring = self.circle(*at, r);
                self.polygon(ring, PaintMode::Stroke);
            }
        }
    }

    fn rectangle(&self, at: At, width: f64, height: f64, inset: f64) -> Vec<LinePoint> {
        let a = at.by(inset, inset);
        let b = at.by(width - inset, height - inset);
        self.corners(&[a, At::new(b.x, a.y), b, At::new(a.x, b.y)])
    }

    fn pattern(&mut self, at: At, radius: f64, marks: &[Stroke], ink: Rgb) {
        let moved = |p: &At| at.by(p.x, p.y);
        let outside = (self.fill, self.ink, self.thickness);
        self.ops.push(Op::SaveGraphicsState);
        let edge: Vec<At> = crescent(radius).iter().map(moved).collect();
        let clip = self.curve(&edge);
        self.polygon(clip, PaintMode::Clip);
        let thick = pitch(radius).1;
        for mark in marks {
            match mark {
                Stroke::Line(points) => {
                    self.stroke(ink, thick);
                    let points: Vec<At> = points.iter().map(moved).collect();
                    self.line(&points);
                }
                Stroke::Dot(p, r) => {
                    self.fill(ink);
                    let disc = self.circle(moved(p), *r);
                    self.polygon(disc, PaintMode::Fill);
                }
                Stroke::Ring(r) => {
                    self.stroke(ink, thick);
                    let ring = self.circle(at, *r);
                    self.polygon(ring, PaintMode::Stroke);
                }
                Stroke::Area(points) => {
                    self.fill(ink);
                    let points: Vec<At> = points.iter().map(moved).collect();
                    let area = self.corners(&points);
                    self.polygon(area, PaintMode::Fill);
                }
            }
        }
        self.ops.push(Op::RestoreGraphicsState);
        (self.fill, self.ink, self.thickness) = outside;
    }

    fn text(&mut self, mark: &Mark, next: Option<&Mark>) {
        let Mark::Text {
            at,
            width,
            style,
            text,
        } = mark
        else {
            return;
        };
        self.fill(style.ink);
        let mut shown = text.clone();
        if let Some(Mark::Text { at: after, .. }) = next {
            // a space that nobody sees, so that cells and lines do not run together when the text is read out
            let joined = (after.y - at.y).abs() < 0.01 && (after.x - at.x - width).abs() < 0.1;
            if !joined {
                shown.push(' ');
            }
        }
        self.ops.push(Op::StartTextSection);
        let tracking = style.tracking * style.size;
        if self.tracking != tracking {
            self.ops.push(Op::SetCharacterSpacing {
                multiplier: short(tracking),
            });
            self.tracking = tracking;
        }
        self.ops.extend([
            Op::SetTextCursor {
                pos: self.point(*at),
            },
            Op::SetFont {
                font: PdfFontHandle::External(FontId(style.face.name().into())),
                size: Pt(short(style.size)),
            },
            Op::ShowText {
                items: vec![TextItem::Text(shown)],
            },
            Op::EndTextSection,
        ]);
    }
}
