// The loaded vehicle in WebGL: a load space of glass and rods, its wheel arches and door, and what stands in it with its codes. In metres:
// x from the bulkhead to the door, y up, z towards the left side of the vehicle, from which one looks at yaw 0.
import {
  BackSide, BoxGeometry, BufferGeometry, CanvasTexture, CircleGeometry, Color, DirectionalLight, DoubleSide, EdgesGeometry, Float32BufferAttribute,
  HemisphereLight, LineBasicMaterial, LineSegments, Mesh, MeshBasicMaterial, MeshStandardMaterial, PCFShadowMap, Raycaster, SRGBColorSpace, Vector2,
  Vector3,
} from 'three';
import { RoundedBoxGeometry } from 'three/addons/geometries/RoundedBoxGeometry.js';
import { tone } from '../../parts/pattern';
import { Turntable } from '../../parts/turn/turntable';
import { atlas, cell, quads, type Label } from './labels3d';
import { blockedBoxes, type Box, type Stood, type Trip } from './stowed';

/** Millimetres in the scene's unit. */
const UNIT = 1000;
/** Corners: of a bag, of a case, m. */
const ROUND = { bag: 0.07, case: 0.012 };
/** A rod of the frame, of the door, m. */
const ROD = { frame: 0.007, door: 0.018 };
/** The rim round what is in hand, m. */
const RIM = 0.018;
const SHADOW_PX = 2048;

/** Colours of the theme as `#rrggbb`, and its typeface. */
export interface Look {
  ground: string;
  floor: string;
  paper: string;
  ink: string;
  edge: string;
  mark: string;
  on: string;
  family: string;
  dark: boolean;
}

/** A vehicle on a canvas. */
export class VanStage extends Turntable {
  #key = new DirectionalLight('#fff8f0', 1.5);
  #fill = new DirectionalLight('#f1f4ff', 0.55);
  #sky = new HemisphereLight('#ffffff', '#cfc4b6', 1.55);
  #codes: CanvasTexture | null = null;

  /** Refused with `NoWebGl` where the browser has none. */
  constructor(canvas: HTMLCanvasElement, calm: boolean) {
    super(canvas, calm);
    this.renderer.shadowMap.enabled = true;
    this.renderer.shadowMap.type = PCFShadowMap;
    // the light stands still: shadows change with the load alone, not with the view
    this.renderer.shadowMap.autoUpdate = false;
    this.#key.castShadow = true;
    this.#key.shadow.mapSize.set(SHADOW_PX, SHADOW_PX);
    this.#key.shadow.radius = 5;
    this.#key.shadow.normalBias = 0.012;
    this.#key.shadow.intensity = 0.4;
    this.camera.add(this.#fill);
    this.#fill.position.set(0.6, 0.5, 1);
    this.scene.add(this.#sky, this.#key, this.#key.target);
  }

  /** Shows what stands in the vehicle. `now` is the code of what is in hand; colours by the id of the piece. */
  show(trip: Trip, shown: readonly Stood[], now: string | null, colours: ReadonlyMap<string, string>, look: Look): void {
    this.clear();
    this.scene.background = new Color(look.ground);
    this.#sky.intensity = look.dark ? 1.35 : 1.55;
    const whole: Box = { x: 0, y: 0, z: 0, dx: trip.space.length_mm, dy: trip.space.width_mm, dz: trip.space.height_mm };
    const { middle, sides } = placed(whole);
    this.centre.set(...middle);
    this.half.set(...sides).multiplyScalar(0.5).max(new Vector3(0.2, 0.2, 0.2));
    this.#light();
    this.#space(whole, trip, look);
    for (const box of blockedBoxes(trip.space)) this.#solid(box, 0.004, look.floor, look.edge);
    for (const { parcel, box } of shown) {
      const mine = parcel.code === now;
      const mesh = this.#solid(box, parcel.soft ? ROUND.bag : ROUND.case, colours.get(parcel.piece) ?? look.paper, parcel.soft ? null : look.edge);
      mesh.userData['code'] = parcel.code;
      if (mine) this.#rim(box, parcel.soft ? ROUND.bag : ROUND.case, look);
    }
    this.#label(shown, now, colours, look);
    this.renderer.shadowMap.needsUpdate = true;
    this.invalidate();
  }

  /** The code of what is seen at a place of the window; null where there is nothing. */
  at(x: number, y: number): string | null {
    const frame = this.canvas.getBoundingClientRect();
    const point = new Vector2(((x - frame.left) / frame.width) * 2 - 1, 1 - ((y - frame.top) / frame.height) * 2);
    const ray = new Raycaster();
    ray.setFromCamera(point, this.camera);
    const found = ray.intersectObjects(this.set.children.filter((c) => typeof c.userData['code'] === 'string'), false)[0];
    return found ? String(found.object.userData['code']) : null;
  }

  /** Gives everything back. */
  override dispose(): void {
    this.#codes?.dispose();
    this.#key.dispose();
    super.dispose();
  }

  #light(): void {
    const reach = this.half.length();
    this.#key.position.copy(this.centre).add(new Vector3(0.5, 1.5, 0.9).multiplyScalar(reach * 2));
    this.#key.target.position.copy(this.centre);
    const shadow = this.#key.shadow.camera;
    [shadow.left, shadow.right, shadow.bottom, shadow.top] = [-reach * 1.3, reach * 1.3, -reach * 1.3, reach * 1.3];
    [shadow.near, shadow.far] = [reach * 0.5, reach * 7];
    shadow.updateProjectionMatrix();
  }

  /** Floor, bulkhead and walls of glass, the frame of rods, the door. */
  #space(whole: Box, trip: Trip, look: Look): void {
    const { middle, sides } = placed(whole);
    const floor = this.add(new Mesh(new BoxGeometry(sides[0], 0.02, sides[2]), new MeshStandardMaterial({ color: look.floor, roughness: 1 })));
    floor.position.set(middle[0], -0.011, middle[2]);
    floor.receiveShadow = true;
    // the glass of the inner sides: it is seen from within, so that the side one looks through is never in the way
    const glass = this.add(new Mesh(new BoxGeometry(...sides), new MeshBasicMaterial({ color: look.edge, transparent: true, opacity: look.dark ? 0.16 : 0.1, side: BackSide, depthWrite: false })));
    glass.position.set(...middle);
    glass.renderOrder = -1;
    const ground = this.add(new Mesh(new CircleGeometry(1, 48), new MeshBasicMaterial({ color: look.ink, transparent: true, opacity: look.dark ? 0.07 : 0.05, depthWrite: false })));
    ground.rotation.x = -Math.PI / 2;
    ground.position.set(middle[0], -0.03, middle[2]);
    ground.scale.set(sides[0] * 0.72, sides[2] * 0.95, 1);
    ground.renderOrder = -2;
    this.#rods(whole, ROD.frame, look.edge);
    const { door_width_mm, door_height_mm, length_mm, width_mm, height_mm } = trip.space;
    const known = door_width_mm > 0 && door_height_mm > 0;
    const [wide, high] = [known ? Math.min(door_width_mm, width_mm) : width_mm, known ? Math.min(door_height_mm, height_mm) : height_mm];
    this.#rods({ x: length_mm, y: (width_mm - wide) / 2, z: 0, dx: 0, dy: wide, dz: high }, ROD.door, look.ink);
  }

  /** The edges of a box as rods. */
  #rods(box: Box, thick: number, colour: string): void {
    const { middle, sides } = placed(box);
    const signs = [-0.5, 0.5];
    for (let axis = 0; axis < 3; axis++) {
      if ((sides[axis] ?? 0) <= 0) continue;
      const others = [0, 1, 2].filter((k) => k !== axis);
      const seen = new Set<string>();
      for (const a of signs) {
        for (const b of signs) {
          const at = [...middle];
          for (const [k, sign] of [[others[0] ?? 0, a], [others[1] ?? 0, b]] as const) at[k] = (middle[k] ?? 0) + sign * (sides[k] ?? 0);
          if (seen.has(at.join())) continue;
          seen.add(at.join());
          const size = [0, 1, 2].map((k) => (k === axis ? (sides[k] ?? 0) + thick : thick)) as [number, number, number];
          const rod = this.add(new Mesh(new BoxGeometry(...size), new MeshBasicMaterial({ color: colour })));
          rod.position.set(at[0] ?? 0, at[1] ?? 0, at[2] ?? 0);
        }
      }
    }
  }

  #solid(box: Box, radius: number, colour: string, edge: string | null): Mesh {
    const { middle, sides } = placed(box);
    const mesh = this.add(new Mesh(rounded(sides, radius), new MeshStandardMaterial({ color: colour, roughness: edge ? 0.75 : 0.6 })));
    mesh.position.set(...middle);
    mesh.castShadow = mesh.receiveShadow = true;
    if (edge) {
      const hull = new BoxGeometry(sides[0] + 0.001, sides[1] + 0.001, sides[2] + 0.001);
      const lines = this.add(new LineSegments(new EdgesGeometry(hull), new LineBasicMaterial({ color: edge })));
      hull.dispose();
      lines.position.set(...middle);
    }
    return mesh;
  }

  #rim(box: Box, radius: number, look: Look): void {
    const { middle, sides } = placed(box);
    const grown = sides.map((s) => s + 2 * RIM) as [number, number, number];
    const mesh = this.add(new Mesh(rounded(grown, radius + RIM), new MeshBasicMaterial({ color: look.mark, side: BackSide })));
    mesh.position.set(...middle);
    // what stands behind others is seen through them
    const hull = new BoxGeometry(...sides);
    const lines = this.add(new LineSegments(new EdgesGeometry(hull), new LineBasicMaterial({ color: look.mark, depthTest: false, transparent: true })));
    hull.dispose();
    lines.position.set(...middle);
    lines.renderOrder = 1;
  }

  /** The codes on the faces, as one mesh with one texture. */
  #label(shown: readonly Stood[], now: string | null, colours: ReadonlyMap<string, string>, look: Look): void {
    const labels = shown.map(({ parcel, box }): Label => {
      const srgb = colours.get(parcel.piece);
      const mine = parcel.code === now;
      const plain = look.dark ? 'dark' : 'light';
      const ink = (srgb ? tone(srgb) : plain) === 'dark' ? '#ffffff' : '#1c1d21';
      return { code: parcel.code, ...placed(box), ink: mine ? look.on : ink, chip: mine ? look.mark : null };
    });
    this.#codes?.dispose();
    this.#codes = null;
    if (labels.length === 0) return;
    this.#codes = new CanvasTexture(atlas(labels, look.family));
    this.#codes.colorSpace = SRGBColorSpace;
    this.#codes.anisotropy = 4;
    const made = quads(labels, (i) => cell(i, labels.length));
    const geometry = new BufferGeometry();
    geometry.setAttribute('position', new Float32BufferAttribute(made.positions, 3));
    geometry.setAttribute('uv', new Float32BufferAttribute(made.uvs, 2));
    this.add(new Mesh(geometry, new MeshBasicMaterial({ map: this.#codes, transparent: true, depthWrite: false, side: DoubleSide })));
  }
}

/** A box of the load in the scene: its middle and its sides, m. */
function placed(box: Box): { middle: [number, number, number]; sides: [number, number, number] } {
  return {
    middle: [(box.x + box.dx / 2) / UNIT, (box.z + box.dz / 2) / UNIT, -(box.y + box.dy / 2) / UNIT],
    sides: [box.dx / UNIT, box.dz / UNIT, box.dy / UNIT],
  };
}

function rounded(sides: [number, number, number], radius: number): RoundedBoxGeometry {
  return new RoundedBoxGeometry(...sides, 3, Math.min(radius, Math.min(...sides) / 2.2));
}
