// The picture that turns: the room's balls, rods and panels in WebGL, lit like a small studio. Loaded when the
// picture is asked for.
import {
  BackSide, BoxGeometry, CanvasTexture, CircleGeometry, Color, CylinderGeometry, DirectionalLight, DynamicDrawUsage, Euler,
  HemisphereLight, InstancedBufferAttribute, InstancedMesh, Matrix4, Mesh, MeshBasicMaterial, MeshPhysicalMaterial, MeshStandardMaterial, PCFShadowMap,
  PlaneGeometry, Quaternion, ShadowMaterial, SphereGeometry, Vector3,
} from 'three';
import type { BufferGeometry, Material } from 'three';
import { drawable } from '../../parts/pattern';
import { Turntable } from '../../parts/turn/turntable';
import type { Ground } from './photo-scale';
import type { Room, Spot } from './room';
import { VenueWall } from './venueWall';

/** Tenths of a millimetre in a metre, the unit of the scene. */
const UNIT = 10_000;
/** From so many balls on they are made of fewer faces. */
const MANY = 1500;
/** What is nearer to the floor than this darkens it where it stands, m. */
const NEAR_FLOOR = 0.35;
const SHADOW_PX = 2048;
/** Faces round a pipe, and round a foil, which is thick and smooth. */
const [ROD_SIDES, FOIL_SIDES] = [12, 28];

/** Colours of the theme, as `#rrggbb`. */
export interface Look {
  ground: string;
  floor: string;
  mark: string;
  dark: boolean;
}

/** A stage on a canvas. */
export class Stage extends Turntable {
  #key = new DirectionalLight('#fff8f0', 2.3);
  #fill = new DirectionalLight('#f1f4ff', 0.75);
  #sky = new HemisphereLight('#ffffff', '#cfc4b6', 1.75);
  #floor: Mesh<CircleGeometry, MeshBasicMaterial>;
  #soft: CanvasTexture;
  #wall = new VenueWall(() => this.invalidate());

  /** Refused with `NoWebGl` where the browser has none. */
  constructor(canvas: HTMLCanvasElement, calm: boolean) {
    super(canvas, calm);
    this.renderer.shadowMap.enabled = true;
    this.renderer.shadowMap.type = PCFShadowMap;
    // the light stands still: shadows change with the room alone, not with the view
    this.renderer.shadowMap.autoUpdate = false;
    this.#soft = softRound();
    this.#floor = new Mesh(new CircleGeometry(1, 64), new MeshBasicMaterial({ alphaMap: this.#soft, transparent: true, depthWrite: false }));
    this.#floor.rotation.x = -Math.PI / 2;
    this.#floor.renderOrder = -2;
    this.#key.castShadow = true;
    this.#key.shadow.mapSize.set(SHADOW_PX, SHADOW_PX);
    this.#key.shadow.radius = 9;
    this.#key.shadow.normalBias = 0.012;
    this.#key.shadow.intensity = 0.5;
    this.camera.add(this.#fill);
    this.#fill.position.set(0.6, 0.4, 1);
    this.scene.add(this.#sky, this.#key, this.#key.target, this.#floor, this.#wall.plane);
  }

  /** Shows a room, before the photograph of `ground` if there is one. Colours by id; the balls of `picked` (piece, cluster) get a rim. */
  show(room: Room, colours: ReadonlyMap<string, string>, picked: { piece: string; cluster: number } | null, look: Look, ground: Ground | null): void {
    this.clear();
    this.scene.background = new Color(look.ground);
    this.#floor.material.color.set(look.floor);
    this.#sky.intensity = look.dark ? 1.4 : 1.75;
    const low = new Vector3(...room.low).divideScalar(UNIT);
    const high = new Vector3(...room.high).divideScalar(UNIT);
    if (low.y < 0.6) low.y = Math.min(low.y, 0);
    this.centre.copy(low).add(high).multiplyScalar(0.5);
    this.half.copy(high).sub(low).multiplyScalar(0.5);
    this.half.max(new Vector3(0.2, 0.2, 0.2));
    const reach = this.half.length();
    this.#wall.show(ground, low.z, look.dark);
    this.#light(reach);
    this.#floor.position.set(this.centre.x, -0.001, this.centre.z);
    this.#floor.scale.setScalar(reach * 3.2);
    const shade = this.add(new Mesh(new PlaneGeometry(reach * 6, reach * 6), new ShadowMaterial({ opacity: look.dark ? 0.45 : 0.2, depthWrite: false })));
    shade.rotation.x = -Math.PI / 2;
    shade.position.copy(this.#floor.position).setY(0);
    shade.receiveShadow = true;
    shade.renderOrder = -1;

    this.add(rounds(room, colours));
    this.#rim(room, picked, look);
    this.#contacts(room);
    const foils = room.tubes.filter((t) => t.what === 'foil');
    this.#rods(foils, foil, FOIL_SIDES);
    this.#rods(room.tubes.filter((t) => t.what !== 'foil'), () => new MeshStandardMaterial({ roughness: 0.55, metalness: 0.05 }), ROD_SIDES);
    for (const panel of room.panels) {
      const [a, b] = [at(panel.low), at(panel.high)];
      const box = this.add(new Mesh(new BoxGeometry(1, 1, 1), new MeshStandardMaterial({ color: drawable(panel.srgb), roughness: 0.9 })));
      box.position.copy(a).add(b).multiplyScalar(0.5);
      box.scale.copy(b).sub(a).max(new Vector3(0.002, 0.002, 0.002));
      box.rotation.y = (panel.turn_deg * Math.PI) / 180;
      box.castShadow = box.receiveShadow = true;
    }
    this.renderer.shadowMap.needsUpdate = true;
    this.invalidate();
  }

  /** Gives everything back. */
  override dispose(): void {
    this.#floor.geometry.dispose();
    this.#floor.material.dispose();
    this.#soft.dispose();
    this.#key.dispose();
    this.#wall.dispose();
    super.dispose();
  }

  #light(reach: number): void {
    this.#key.position.copy(this.centre).add(new Vector3(-0.75, 1.25, 1).multiplyScalar(reach * 2));
    this.#key.target.position.copy(this.centre);
    const shadow = this.#key.shadow.camera;
    [shadow.left, shadow.right, shadow.bottom, shadow.top] = [-reach * 1.5, reach * 1.5, -reach * 1.5, reach * 1.5];
    [shadow.near, shadow.far] = [reach * 0.5, reach * 7];
    shadow.updateProjectionMatrix();
  }

  #rim(room: Room, picked: { piece: string; cluster: number } | null, look: Look): void {
    const balls = room.balls.filter((b) => picked && b.piece === picked.piece && b.cluster === picked.cluster);
    const mesh = this.#instances(new SphereGeometry(1, 32, 24), new MeshBasicMaterial({ side: BackSide }), balls.length, (i, matrix, colour) => {
      const ball = balls[i];
      if (!ball) return;
      const r = ball.r / UNIT + 0.014;
      matrix.makeScale(r, r, r).setPosition(at(ball.at));
      colour.set(look.mark);
    });
    mesh.castShadow = mesh.receiveShadow = false;
  }

  /** Where something stands on the floor or nearly so, the floor darkens under it. */
  #contacts(room: Room): void {
    const low = room.balls.filter((b) => (b.at[1] - b.r) / UNIT < NEAR_FLOOR);
    const material = new MeshBasicMaterial({ color: '#000000', alphaMap: this.#soft, transparent: true, opacity: 0.16, depthWrite: false });
    const flat = new Quaternion().setFromEuler(new Euler(-Math.PI / 2, 0, 0));
    const mesh = this.#instances(new PlaneGeometry(2, 2), material, low.length, (i, matrix) => {
      const ball = low[i];
      if (!ball) return;
      const up = Math.max(0, (ball.at[1] - ball.r) / UNIT);
      const r = (ball.r / UNIT) * (1.15 - 0.6 * (up / NEAR_FLOOR));
      matrix.compose(at(ball.at).setY(0.0015), flat, new Vector3(r, r, r));
    });
    mesh.castShadow = mesh.receiveShadow = false;
    mesh.renderOrder = -1;
  }

  #rods(tubes: Room['tubes'], material: () => Material, sides: number): void {
    const up = new Vector3(0, 1, 0);
    this.#instances(new CylinderGeometry(1, 1, 1, sides), material(), tubes.length, (i, matrix, colour) => {
      const tube = tubes[i];
      if (!tube) return;
      const [a, b] = [at(tube.from), at(tube.to)];
      const way = b.clone().sub(a);
      const long = Math.max(way.length(), 1e-5);
      const turn = new Quaternion().setFromUnitVectors(up, way.divideScalar(long));
      matrix.compose(a.add(b).multiplyScalar(0.5), turn, new Vector3(tube.r / UNIT, long, tube.r / UNIT));
      colour.set(drawable(tube.srgb));
    });
    const ends = tubes.flatMap((t) => [{ spot: t.from, tube: t }, { spot: t.to, tube: t }]);
    this.#instances(new SphereGeometry(1, sides, Math.round(sides * 0.67)), material(), ends.length, (i, matrix, colour) => {
      const end = ends[i];
      if (!end) return;
      const r = end.tube.r / UNIT;
      matrix.makeScale(r, r, r).setPosition(at(end.spot));
      colour.set(drawable(end.tube.srgb));
    });
  }

  #instances(shape: BufferGeometry, material: Material, count: number, put: Put): InstancedMesh {
    return this.add(instances(shape, material, count, put));
  }
}

/** Sets place, size and colour of one of many. */
type Put = (i: number, matrix: Matrix4, colour: Color) => void;

/** So many of one shape. */
function instances(shape: BufferGeometry, material: Material, count: number, put: Put): InstancedMesh {
  const mesh = new InstancedMesh(shape, material, count);
  mesh.instanceMatrix.setUsage(DynamicDrawUsage);
  const [matrix, colour] = [new Matrix4(), new Color('#ffffff')];
  for (let i = 0; i < count; i++) {
    put(i, matrix, colour);
    mesh.setMatrixAt(i, matrix);
    mesh.setColorAt(i, colour);
  }
  mesh.castShadow = mesh.receiveShadow = true;
  // bounds of instances are those of all of them, which is what is looked at anyway
  mesh.frustumCulled = false;
  return mesh;
}

/** The balls of a room, in its order, each in its colour. */
export function rounds(room: Room, colours: ReadonlyMap<string, string>): InstancedMesh {
  const shown = new Map([...colours].map(([id, srgb]) => [id, new Color(drawable(srgb))]));
  const lost = new Color(drawable(''));
  const fine = room.balls.length < MANY;
  const round = new SphereGeometry(1, fine ? 40 : 20, fine ? 28 : 14);
  const cores = new Float32Array(room.balls.length * 3);
  room.balls.forEach((ball, i) => (shown.get(ball.inside || ball.colour) ?? lost).toArray(cores, 3 * i));
  round.setAttribute('core', new InstancedBufferAttribute(cores, 3));
  return instances(round, latex(), room.balls.length, (i, matrix, colour) => {
    const ball = room.balls[i];
    if (!ball) return;
    matrix.makeScale(ball.r / UNIT, ball.r / UNIT, ball.r / UNIT).setPosition(at(ball.at));
    colour.copy(shown.get(ball.colour) ?? lost);
  });
}

const at = (spot: Spot) => new Vector3(spot[0] / UNIT, spot[1] / UNIT, spot[2] / UNIT);

/** Rubber; of two balloons the inner one shows through the outer, least at the edge, where the eye looks through more of it. */
function latex(): MeshPhysicalMaterial {
  const material = new MeshPhysicalMaterial({ roughness: 0.5, clearcoat: 0.55, clearcoatRoughness: 0.22 });
  material.onBeforeCompile = (shader) => {
    shader.vertexShader = shader.vertexShader
      .replace('#include <common>', '#include <common>\nattribute vec3 core;\nvarying vec3 vCore;')
      .replace('#include <begin_vertex>', '#include <begin_vertex>\nvCore = core;');
    shader.fragmentShader = shader.fragmentShader
      .replace('#include <common>', '#include <common>\nvarying vec3 vCore;')
      .replace(
        '#include <color_fragment>',
        '#include <color_fragment>\ndiffuseColor.rgb = mix(diffuseColor.rgb, vCore, 0.6 * smoothstep(0.22, 0.58, dot(normalize(vNormal), normalize(vViewPosition))));',
      );
  };
  return material;
}

/** Film with metal on it: its lights are small and hard. */
const foil = () => new MeshPhysicalMaterial({ roughness: 0.32, metalness: 0.3, clearcoat: 1, clearcoatRoughness: 0.06 });

/** White in the middle, black at the rim: how floor and contact shadows fade. */
function softRound(): CanvasTexture {
  const canvas = document.createElement('canvas');
  canvas.width = canvas.height = 128;
  const brush = canvas.getContext('2d');
  if (brush) {
    const fade = brush.createRadialGradient(64, 64, 8, 64, 64, 64);
    fade.addColorStop(0, '#ffffff');
    fade.addColorStop(0.45, '#a0a0a0');
    fade.addColorStop(1, '#000000');
    brush.fillStyle = fade;
    brush.fillRect(0, 0, 128, 128);
  }
  return new CanvasTexture(canvas);
}
