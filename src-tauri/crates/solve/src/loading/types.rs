//! What is loaded, into what, by which rules. Lengths are whole millimetres (any whole unit will do), x runs along the vehicle to its
//! door, y across, z up. Mass is in grams.

/// Sides or a place: x, y, z.
pub type Triple = [i32; 3];

/// The longest side that is taken, so that no volume overflows.
pub const LONGEST: i32 = 200_000;
/// The most items of one question.
pub const MOST_ITEMS: usize = 500;

/// A box that stands somewhere.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub struct Cuboid {
    /// The corner next to the origin.
    pub at: Triple,
    /// Sides, as it stands.
    pub sides: Triple,
}

impl Cuboid {
    /// Where it ends along an axis.
    #[must_use]
    pub fn end(&self, axis: usize) -> i32 {
        self.at[axis] + self.sides[axis]
    }

    /// How far two boxes overlap along an axis; negative: how far they are apart.
    #[must_use]
    pub fn shared(&self, other: &Cuboid, axis: usize) -> i32 {
        self.end(axis).min(other.end(axis)) - self.at[axis].max(other.at[axis])
    }

    /// Volume.
    #[must_use]
    pub fn volume(&self) -> i64 {
        self.sides.iter().map(|s| i64::from(*s)).product()
    }
}

/// A load space.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct Container {
    /// Inner length, width, height.
    pub sides: Triple,
    /// What is in the way: wheel arches, slopes in steps. They stand where they say; their tops carry.
    pub blocked: Vec<Cuboid>,
    /// Clear width and height of the door at the end of x; `None`: the whole end.
    pub door: Option<[i32; 2]>,
    /// The most that it may carry, g; `None`: no limit.
    pub payload_g: Option<i64>,
}

impl Container {
    /// An empty space without anything in the way.
    #[must_use]
    pub fn plain(sides: Triple) -> Container {
        Container {
            sides,
            ..Container::default()
        }
    }

    /// Volume of the inner sides.
    #[must_use]
    pub fn volume(&self) -> i64 {
        self.sides.iter().map(|s| i64::from(*s)).product()
    }
}

/// The six ways of turning a box; side `k` of the answer is side `ORDERS[turn][k]` of the item. Even ones and the odd ones after
/// them have the same side upright.
const ORDERS: [[usize; 3]; 6] = [
    [0, 1, 2],
    [1, 0, 2],
    [0, 2, 1],
    [2, 0, 1],
    [1, 2, 0],
    [2, 1, 0],
];

/// The turns that an item may have.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub struct Turns(u8);

impl Turns {
    /// As its sides say, no turn.
    pub const FIXED: Turns = Turns(0b00_0001);
    /// A quarter turn on the floor; its third side stays upright.
    pub const UPRIGHT: Turns = Turns(0b00_0011);
    /// All six.
    pub const ALL: Turns = Turns(0b11_1111);

    /// Every turn in which one of the sides marked is upright.
    #[must_use]
    pub fn with_upright(may: [bool; 3]) -> Turns {
        let mut turns = 0;
        for (turn, order) in ORDERS.iter().enumerate() {
            if may[order[2]] {
                turns |= 1 << turn;
            }
        }
        Turns(turns)
    }

    /// The different shapes that sides take by these turns, ascending.
    #[must_use]
    pub fn shapes(self, sides: Triple) -> Vec<Triple> {
        let mut shapes: Vec<Triple> = (0..ORDERS.len())
            .filter(|turn| self.0 >> turn & 1 == 1)
            .map(|turn| ORDERS[turn].map(|side| sides[side]))
            .collect();
        shapes.sort_unstable();
        shapes.dedup();
        shapes
    }
}

/// What may rest on an item.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Default)]
pub enum Bears {
    /// Anything.
    #[default]
    All,
    /// Nothing at all (class A).
    Nothing,
    /// Only items that are as fragile (class B).
    OwnKind,
    /// So many grams in all, each item on top sharing its mass, and what it carries, by contact area (class C).
    UpTo(i64),
}

/// Something to load.
#[derive(Debug, Clone, PartialEq, Eq, PartialOrd, Ord)]
pub struct Item {
    /// Sides when it is not turned.
    pub sides: Triple,
    /// How it may stand.
    pub turns: Turns,
    /// Smaller sides that it can be squeezed to, the mildest squeeze first; empty: it is rigid.
    pub squeezed: Vec<Triple>,
    /// Mass, g.
    pub mass_g: i64,
    /// When it is unloaded: 0 first.
    pub stop: u32,
    /// What may rest on it.
    pub bears: Bears,
    /// It may bridge gaps: any touch below it is support enough.
    pub bridges: bool,
}

impl Item {
    /// A rigid box that carries anything, has no mass and goes out first.
    #[must_use]
    pub fn rigid(sides: Triple, turns: Turns) -> Item {
        Item {
            sides,
            turns,
            squeezed: Vec::new(),
            mass_g: 0,
            stop: 0,
            bears: Bears::All,
            bridges: false,
        }
    }

    /// Volume when it is not squeezed.
    #[must_use]
    pub fn volume(&self) -> i64 {
        self.sides.iter().map(|s| i64::from(*s)).product()
    }

    /// Its sides at a rung of the ladder: 0 is free.
    #[must_use]
    pub fn at_rung(&self, rung: usize) -> Option<Triple> {
        match rung {
            0 => Some(self.sides),
            _ => self.squeezed.get(rung - 1).copied(),
        }
    }
}

/// How much of its base an item must have below it.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Support {
    /// None: it may hang in the air.
    None,
    /// At least so many percent.
    Share(u32),
    /// All of it.
    Full,
}

impl Support {
    /// In percent.
    #[must_use]
    pub fn percent(self) -> u32 {
        match self {
            Support::None => 0,
            Support::Share(percent) => percent.min(100),
            Support::Full => 100,
        }
    }
}

/// What the order of unloading asks.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Order {
    /// Nothing.
    Free,
    /// Last in, first out: nothing that is unloaded later lies above an item, at any height, or between it and the door.
    Lifo,
    /// The same, but what lies above without touching does not matter: items are carried, not lifted by a machine.
    LifoByHand,
}

/// A question.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Problem {
    /// Into what.
    pub container: Container,
    /// What.
    pub items: Vec<Item>,
    /// How they must be supported.
    pub support: Support,
    /// What the order of unloading asks.
    pub order: Order,
}

/// An item in its place.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub struct Placed {
    /// Which, as an index.
    pub item: usize,
    /// Where and how it stands.
    pub place: Cuboid,
    /// How far it is squeezed: 0 not at all.
    pub rung: usize,
}

/// What is loaded.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct Load {
    /// In an order in which they can be put in, each on what is there already.
    pub placed: Vec<Placed>,
    /// Volume of the items in it when they are free.
    pub volume: i64,
}

impl Load {
    /// Items that are not in it, ascending.
    #[must_use]
    pub fn left(&self, items: usize) -> Vec<usize> {
        let mut inside = vec![false; items];
        for placed in &self.placed {
            if let Some(mark) = inside.get_mut(placed.item) {
                *mark = true;
            }
        }
        (0..items).filter(|i| !inside[*i]).collect()
    }
}
