// Codes on the faces of boxes: where each stands, as triangles, and one picture with all of them.

/** A code on a box, m. */
export interface Label {
  code: string;
  middle: [number, number, number];
  sides: [number, number, number];
  /** colour of the letters */
  ink: string;
  /** colour of the ground under them; null for none */
  chip: string | null;
}

/** A cell of the picture, px, and so many in a row. */
const CELL = { width: 160, height: 80 };
const ACROSS = 12;
/** A code takes at most so much of a face, and is never higher than this, m. */
const SHARE = { width: 0.8, height: 0.62 };
const MOST_M = 0.26;
/** In front of its face by so much, m. */
const OFF = 0.003;

type Triple = [number, number, number];
/** The faces of a box: outward, to the right and up as one reads on it. The floor side is never seen. */
const FACES: readonly { out: Triple; right: Triple; up: Triple }[] = [
  { out: [0, 0, 1], right: [1, 0, 0], up: [0, 1, 0] },
  { out: [0, 0, -1], right: [-1, 0, 0], up: [0, 1, 0] },
  { out: [1, 0, 0], right: [0, 0, -1], up: [0, 1, 0] },
  { out: [-1, 0, 0], right: [0, 0, 1], up: [0, 1, 0] },
  { out: [0, 1, 0], right: [1, 0, 0], up: [0, 0, -1] },
];

/** Where the picture of a label lies in the whole picture: left, bottom, right, top, each 0 to 1 from the lower left. */
export function cell(i: number, n: number): [number, number, number, number] {
  const rows = Math.ceil(n / ACROSS);
  const across = Math.min(n, ACROSS);
  const [column, row] = [i % ACROSS, Math.floor(i / ACROSS)];
  return [column / across, 1 - (row + 1) / rows, (column + 1) / across, 1 - row / rows];
}

/** Two triangles for each face of each box. */
export function quads(labels: readonly Label[], cellOf: (i: number) => [number, number, number, number]): { positions: number[]; uvs: number[] } {
  const positions: number[] = [];
  const uvs: number[] = [];
  labels.forEach(({ middle, sides }, i) => {
    const [left, bottom, right, top] = cellOf(i);
    for (const face of FACES) {
      const size = (way: Triple) => Math.abs(way[0] * sides[0] + way[1] * sides[1] + way[2] * sides[2]);
      const aspect = CELL.width / CELL.height;
      const high = Math.min(MOST_M, SHARE.height * size(face.up), (SHARE.width * size(face.right)) / aspect);
      const corner = (u: number, v: number) =>
        [0, 1, 2].map((k) => {
          const out = (face.out[k] ?? 0) * (size(face.out) / 2 + OFF);
          return (middle[k] ?? 0) + out + (face.right[k] ?? 0) * u * high * aspect + (face.up[k] ?? 0) * v * high;
        });
      const [a, b, c, d] = [corner(-0.5, -0.5), corner(0.5, -0.5), corner(0.5, 0.5), corner(-0.5, 0.5)];
      for (const point of [a, b, c, a, c, d]) positions.push(...point);
      uvs.push(left, bottom, right, bottom, right, top, left, bottom, right, top, left, top);
    }
  });
  return { positions, uvs };
}

/** The picture of all codes. */
export function atlas(labels: readonly Label[], family: string): HTMLCanvasElement {
  const canvas = document.createElement('canvas');
  canvas.width = Math.min(labels.length, ACROSS) * CELL.width;
  canvas.height = Math.ceil(labels.length / ACROSS) * CELL.height;
  const brush = canvas.getContext('2d');
  if (!brush) return canvas;
  brush.textAlign = 'center';
  brush.textBaseline = 'middle';
  labels.forEach(({ code, ink, chip }, i) => {
    const [x, y] = [(i % ACROSS) * CELL.width, Math.floor(i / ACROSS) * CELL.height];
    brush.font = `600 ${CELL.height * 0.86}px ${family}`;
    const wide = brush.measureText(code).width;
    const fit = Math.min(1, (CELL.width - 16) / Math.max(1, wide));
    if (chip) {
      brush.fillStyle = chip;
      brush.beginPath();
      brush.roundRect(x + 2, y + 2, CELL.width - 4, CELL.height - 4, 10);
      brush.fill();
    }
    brush.fillStyle = ink;
    brush.font = `600 ${CELL.height * 0.86 * fit}px ${family}`;
    brush.fillText(code, x + CELL.width / 2, y + CELL.height * 0.54);
  });
  return canvas;
}
