use plan::scene::{Scene, SceneBall};
use sha2::{Digest, Sha256};

use super::*;
use crate::colour::Rgb;

fn ball(x: i64, y: i64, z: i64, r: i64, colour: &str) -> SceneBall {
    SceneBall {
        at: [x, y, z],
        r,
        colour: colour.into(),
        inside: String::new(),
        ..SceneBall::default()
    }
}

/// Forty balls of three colours in a heap of our own, on the floor.
fn heap() -> Scene {
    let balls = (0..40).map(|n: i64| {
        let colour = ["sand", "rose", "moss"][n as usize % 3];
        ball(
            n * 7919 % 17_000,
            1200 + n * 104_729 % 13_000,
            n * 1299 % 5000,
            800 + n * 31 % 600,
            colour,
        )
    });
    Scene {
        balls: balls.collect(),
        low: [-1400, -200, -1400],
        high: [18_400, 15_600, 6400],
        ..Scene::default()
    }
}

fn world(scene: &Scene) -> World {
    World::of(scene, |colour| match colour {
        "sand" => Rgb([0xd8, 0xc3, 0xa0]),
        "rose" => Rgb([0xc4, 0x6f, 0x7a]),
        _ => Rgb([0x5d, 0x6f, 0x45]),
    })
}

fn view(behind: Behind<'static>) -> View<'static> {
    View {
        width: 320,
        height: 200,
        angle: Angle::Framed {
            yaw_deg: 20.0,
            pitch_deg: 8.0,
        },
        behind,
    }
}

#[test]
fn the_same_picture_twice_is_the_same_bytes() {
    let scene = heap();
    let (one, two) = (
        take(&world(&scene), &view(Behind::Paper)),
        take(&world(&scene), &view(Behind::Paper)),
    );
    assert_eq!(one, two);
    assert_eq!(one.png().unwrap(), two.png().unwrap());
}

// Read by the crate that wrote the rows, from a file whose chunks are our own.
#[test]
fn the_rows_of_a_picture_are_a_file_again() {
    let taken = take(&world(&heap()), &view(Behind::Paper));
    let file = super::rows(&taken).unwrap().png();
    let mut reader = ::png::Decoder::new(std::io::Cursor::new(file))
        .read_info()
        .unwrap();
    let mut pixels = vec![0; reader.output_buffer_size().unwrap()];
    reader.next_frame(&mut pixels).unwrap();
    assert_eq!((reader.info().width, reader.info().height), (320, 200));
    assert_eq!(pixels, taken.bytes);
}

// One ball seen from straight ahead to a scale of 1 mm to the pixel: its disc covers π r² pixels, is whole inside and empty outside.
#[test]
fn a_clear_picture_covers_exactly_the_disc() {
    let scene = Scene {
        balls: vec![ball(0, 0, 0, 500, "sand")],
        low: [-500, -500, -500],
        high: [500, 500, 500],
        ..Scene::default()
    };
    let picture = take(
        &world(&scene),
        &View {
            width: 128,
            height: 128,
            angle: Angle::Flat {
                mm_per_px: 1.0,
                origin_px: [64.0, 64.0],
            },
            behind: Behind::Clear,
        },
    );
    assert_eq!(picture.depth, 4);
    let mut covered = 0.0;
    for y in 0..128_u32 {
        for x in 0..128_u32 {
            let alpha = picture.bytes[((y * 128 + x) * 4 + 3) as usize];
            let (dx, dy) = (f64::from(x) + 0.5 - 64.0, f64::from(y) + 0.5 - 64.0);
            let off = (dx * dx + dy * dy).sqrt();
            if off < 50.0 - 0.75 {
                assert_eq!(alpha, 255, "{x} {y}");
            }
            if off > 50.0 + 0.75 {
                assert_eq!(alpha, 0, "{x} {y}");
            }
            covered += f64::from(alpha) / 255.0;
        }
    }
    let want = core::f64::consts::PI * 2500.0;
    assert!((covered - want).abs() < 0.002 * want, "{covered} of {want}");
}

#[test]
fn every_ball_is_whole_in_a_framed_picture() {
    let mut scene = heap();
    scene.balls.truncate(12);
    for (yaw_deg, pitch_deg) in [(0.0, 0.0), (35.0, 15.0), (-120.0, 60.0)] {
        let picture = take(
            &world(&scene),
            &View {
                angle: Angle::Framed { yaw_deg, pitch_deg },
                ..view(Behind::Clear)
            },
        );
        let alpha = |x: u32, y: u32| picture.bytes[((y * 320 + x) * 4 + 3) as usize];
        for x in 0..320 {
            assert_eq!(alpha(x, 0) | alpha(x, 199), 0, "{yaw_deg} {x}");
        }
        for y in 0..200 {
            assert_eq!(alpha(0, y) | alpha(319, y), 0, "{yaw_deg} {y}");
        }
        assert!(picture.bytes.chunks(4).any(|p| p[3] == 255));
    }
}

#[test]
fn a_photograph_stays_where_no_piece_is() {
    let scene = Scene {
        balls: vec![ball(0, 0, 0, 200, "rose")],
        low: [-200; 3],
        high: [200; 3],
        ..Scene::default()
    };
    let photo: &'static [u8] = Box::leak(
        (0..64 * 48)
            .flat_map(|n| [(n % 200) as u8, (n / 7 % 180) as u8, 90])
            .collect::<Vec<u8>>()
            .into_boxed_slice(),
    );
    let picture = take(
        &world(&scene),
        &View {
            width: 64,
            height: 48,
            angle: Angle::Flat {
                mm_per_px: 2.0,
                origin_px: [20.0, 30.0],
            },
            behind: Behind::Photo(photo),
        },
    );
    // 20 mm at 2 mm to the pixel: ten pixels about the origin
    let mut changed = 0;
    for y in 0..48_u32 {
        for x in 0..64_u32 {
            let at = (3 * (y * 64 + x)) as usize;
            let (dx, dy) = (f64::from(x) + 0.5 - 20.0, f64::from(y) + 0.5 - 30.0);
            let same = (0..3).all(|c| picture.bytes[at + c].abs_diff(photo[at + c]) <= 3);
            if (dx * dx + dy * dy).sqrt() > 10.8 {
                assert!(same, "{x} {y}");
            } else if !same {
                changed += 1;
            }
        }
    }
    assert!(changed > 250, "{changed}");
}

// A white ball in the open: lit from the upper left, its light falls off to the lower right and never breaks.
#[test]
fn the_light_comes_from_the_upper_left() {
    let scene = Scene {
        balls: vec![ball(0, 5000, 0, 1000, "sand")],
        low: [-1000, 4000, -1000],
        high: [1000, 6000, 1000],
        ..Scene::default()
    };
    let picture = take(
        &world(&scene),
        &View {
            width: 200,
            height: 200,
            angle: Angle::Flat {
                mm_per_px: 1.2,
                origin_px: [100.0, 516.0],
            },
            behind: Behind::Clear,
        },
    );
    let grey = |x: u32, y: u32| {
        let at = (4 * (y * 200 + x)) as usize;
        u32::from(picture.bytes[at])
            + u32::from(picture.bytes[at + 1])
            + u32::from(picture.bytes[at + 2])
    };
    assert!(grey(65, 60) > grey(100, 100) && grey(100, 100) > grey(140, 140));
    // neighbours on the lower right half differ by no more than a few steps of the byte
    for n in 100..150 {
        assert!(grey(n, n).abs_diff(grey(n + 1, n + 1)) < 24, "{n}");
    }
}

// The same bytes on x86-64 and wasm32, and as long as nobody means to change the light.
#[test]
fn the_digest_of_a_picture() {
    let bytes = take(&world(&heap()), &view(Behind::Paper)).bytes;
    let digest: String = Sha256::digest(&bytes)
        .iter()
        .take(8)
        .map(|b| format!("{b:02x}"))
        .collect();
    assert_eq!(digest, "bc2afd369073fecf");
}

#[test]
fn sizes_out_of_bounds_and_photographs_of_another_size_are_refused() {
    let (job, plan) = (Job::default(), Plan::default());
    let scene = Scene::default();
    let with = |width, height, behind| View {
        width,
        height,
        ..View {
            behind,
            ..view(Behind::Paper)
        }
    };
    assert!(still(&job, &plan, &scene, &with(8, 100, Behind::Paper)).is_err());
    assert!(still(&job, &plan, &scene, &with(8192, 8192, Behind::Paper)).is_err());
    assert!(still(&job, &plan, &scene, &with(64, 64, Behind::Photo(&[0; 12]))).is_err());
    // nothing to show is an empty studio
    let empty = still(&job, &plan, &scene, &with(64, 64, Behind::Paper)).unwrap();
    assert_eq!(empty.bytes.len(), 64 * 64 * 3);
}

/// However the colours lie, each ball of the plan has its colour in the scene, which the front view and the view that turns draw, and
/// in the still: looked at where a ball is the foremost, the picture there is nearest to the ball's own colour.
#[test]
fn colours_of_every_arrangement_are_those_of_the_plan() {
    use job::piece::{Arrangement, PieceKind};
    let palette = [("a", "#c0392b"), ("b", "#2e8b57"), ("c", "#3056b0")];
    for arrangement in [
        Arrangement::Blocks,
        Arrangement::Blended,
        Arrangement::Fade,
        Arrangement::Spiral,
    ] {
        let (mut job, _) = job::demo::demo(&job::defaults::starting_books(), "2027-06-12");
        job.pieces.retain(|_, p| p.kind == PieceKind::Garland);
        let id = job.pieces.keys().next().unwrap().clone();
        job.pieces.retain(|other, _| *other == id);
        let colour = job.colours.values().next().unwrap().clone();
        job.colours = palette
            .iter()
            .map(|(id, srgb)| {
                let own = job::stock::Colour {
                    srgb: (*srgb).into(),
                    ..colour.clone()
                };
                ((*id).to_string(), own)
            })
            .collect();
        let garland = &mut job.pieces.get_mut(&id).unwrap().garland;
        garland.arrangement = arrangement;
        for (shade, (own, _)) in garland.palette.values_mut().zip(palette) {
            (shade.colour, shade.inside) = (own.to_string(), String::new());
        }
        let plan = plan::plan_at(
            &job,
            None,
            plan::Depth::Preview,
            &mut plan::Memory::default(),
        );
        let scene = plan::scene::scene(&job, &plan);
        let clusters = &plan.pieces[0].garland.as_ref().unwrap().clusters;
        let planned = clusters.iter().flat_map(|c| &c.balls);
        let line: Vec<&SceneBall> = scene.balls.iter().filter(|b| b.cluster >= 0).collect();
        assert!(line.len() > 50);
        assert!(
            planned
                .map(|b| &b.colour)
                .eq(line.iter().map(|b| &b.colour)),
            "{arrangement:?}"
        );

        let mm_per_px = 8.0;
        let (left, top) = (scene.low[0] - 1000, scene.high[1] + 1000);
        let size = [scene.high[0] - left + 1000, top - scene.low[1] + 1000];
        let [width, height] = size.map(|dmm| (dmm as f64 / 10.0 / mm_per_px) as u32);
        let px = |dmm: i64| dmm as f64 / 10.0 / mm_per_px;
        let picture = still(
            &job,
            &plan,
            &scene,
            &View {
                width,
                height,
                angle: Angle::Flat {
                    mm_per_px,
                    origin_px: [px(-left), px(top)],
                },
                behind: Behind::Clear,
            },
        )
        .unwrap();
        let mut looked = 0;
        for ball in &scene.balls {
            // the middle of the ball is seen if no other one lies before it there, nor casts its edge on it
            let hidden = scene.balls.iter().any(|other| {
                let [x, y] = [0, 1].map(|i| (other.at[i] - ball.at[i]) as f64);
                other.at[2] + other.r > ball.at[2] + ball.r
                    && x * x + y * y < (other.r as f64 * 1.1).powi(2)
            });
            if hidden {
                continue;
            }
            let (x, y) = (px(ball.at[0] - left) as u32, px(top - ball.at[1]) as u32);
            let at = ((y * width + x) * 4) as usize;
            let seen = [0, 1, 2].map(|i| f64::from(picture.bytes[at + i]));
            let unit = |v: [f64; 3]| {
                let long = v.iter().map(|c| c * c).sum::<f64>().sqrt().max(1.0);
                v.map(|c| c / long)
            };
            let likeness = |srgb: &str| {
                let Rgb(own) = Rgb::from_hex(srgb).unwrap();
                let (a, b) = (unit(seen), unit(own.map(f64::from)));
                (0..3).map(|i| a[i] * b[i]).sum::<f64>()
            };
            let nearest = palette
                .iter()
                .max_by(|a, b| likeness(a.1).total_cmp(&likeness(b.1)))
                .unwrap();
            assert_eq!(
                nearest.0, ball.colour,
                "{arrangement:?} at {x} {y}: {seen:?}"
            );
            looked += 1;
        }
        assert!(looked > 20, "{arrangement:?}: only {looked} are seen");
    }
}
