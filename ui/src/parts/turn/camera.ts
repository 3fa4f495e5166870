// Where the picture is looked at from, and what drags, pinches, wheels and keys make of that.

/** Yaw: how far to the right the viewer stands; pitch: how far up, both in degrees. Zoom: 1 shows everything. */
export interface View {
  yaw: number;
  pitch: number;
  zoom: number;
}

/** Named views. A front view from the height of the eyes looks a little down. */
export const VIEWS = {
  front: { yaw: 0, pitch: 4, zoom: 1 },
  side: { yaw: 90, pitch: 4, zoom: 1 },
  top: { yaw: 0, pitch: 90, zoom: 1 },
} as const satisfies Record<string, View>;

const PITCH = { least: -30, most: 90 };
const ZOOM = { least: 0.5, most: 6 };
/** Degrees to a pixel of a drag, and to a press of an arrow key. */
const PER_PX = 0.4;
const PER_KEY = 10;
/** A notch of the wheel is about 100 px, and a quarter more or less. */
const PER_WHEEL_PX = 0.0022;
const PER_ZOOM_KEY = 1.25;
/** Air around everything. */
const MARGIN = 1.08;

/** Turned by a drag, px. */
export function dragged(view: View, dx: number, dy: number): View {
  return turned(view, -dx * PER_PX, dy * PER_PX);
}

/** Nearer by a factor. */
export function nearer(view: View, factor: number): View {
  return { ...view, zoom: Math.min(ZOOM.most, Math.max(ZOOM.least, view.zoom * factor)) };
}

/** Nearer or further by a wheel's way, px. */
export const wheeled = (view: View, dy: number) => nearer(view, Math.exp(-dy * PER_WHEEL_PX));

/** What a key makes of a view; null if it is none of these keys. `home` is where the Home key leads. */
export function keyed(view: View, key: string, home: View = VIEWS.front): View | null {
  switch (key) {
    case 'ArrowLeft':
      return turned(view, -PER_KEY, 0);
    case 'ArrowRight':
      return turned(view, PER_KEY, 0);
    case 'ArrowUp':
      return turned(view, 0, PER_KEY);
    case 'ArrowDown':
      return turned(view, 0, -PER_KEY);
    case '+':
    case '=':
      return nearer(view, PER_ZOOM_KEY);
    case '-':
      return nearer(view, 1 / PER_ZOOM_KEY);
    case 'Home':
      return home;
    default:
      return null;
  }
}

/** Between two views, `part` of the way, the short way round. */
export function turnTo(from: View, to: View, part: number): View {
  const soft = 1 - (1 - part) ** 3;
  const mix = (a: number, b: number) => a + (b - a) * soft;
  const way = ((((to.yaw - from.yaw) % 360) + 540) % 360) - 180;
  return part >= 1 ? to : { yaw: from.yaw + way * soft, pitch: mix(from.pitch, to.pitch), zoom: mix(from.zoom, to.zoom) };
}

/** How far the viewer stands from the middle of a box so that all of it is seen, in the unit of its half sides. Never nearer
 *  than in the front view, so that a turn does not breathe. */
export function fit(half: readonly [number, number, number], view: View, fovDeg: number, aspect: number): number {
  return MARGIN * Math.max(reach(half, view, fovDeg, aspect), reach(half, VIEWS.front, fovDeg, aspect));
}

function reach(half: readonly [number, number, number], view: View, fovDeg: number, aspect: number): number {
  const tall = Math.tan((fovDeg * Math.PI) / 360);
  const [cy, sy] = [Math.cos((view.yaw * Math.PI) / 180), Math.sin((view.yaw * Math.PI) / 180)];
  const [cp, sp] = [Math.cos((view.pitch * Math.PI) / 180), Math.sin((view.pitch * Math.PI) / 180)];
  let far = 0;
  for (let corner = 0; corner < 8; corner++) {
    const [x, y, z] = [0, 1, 2].map((i) => (corner >> i) & 1 ? (half[i] ?? 0) : -(half[i] ?? 0)) as [number, number, number];
    const right = x * cy - z * sy;
    const level = x * sy + z * cy;
    const [up, near] = [y * cp - level * sp, y * sp + level * cp];
    far = Math.max(far, near + Math.max(Math.abs(right) / (tall * aspect), Math.abs(up) / tall));
  }
  return far;
}

function turned(view: View, yaw: number, pitch: number): View {
  const round = ((((view.yaw + yaw) % 360) + 540) % 360) - 180;
  return { ...view, yaw: round, pitch: Math.min(PITCH.most, Math.max(PITCH.least, view.pitch + pitch)) };
}
