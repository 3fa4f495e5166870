// What every picture that turns has: a canvas with WebGL, a viewer who goes round the middle of what is shown, and a frame that is drawn
// when something has changed and at no other time. Loaded when such a picture is asked for: it brings three along.
import { Group, InstancedMesh, PerspectiveCamera, Scene, Vector3, WebGLRenderer } from 'three';
import type { Material, Mesh, Object3D } from 'three';
import { fit, turnTo, type View } from './camera';

/** Sharper than this no eye sees at an arm's length, and each step costs the square. */
const MOST_PIXELS = 2;
const FOV_DEG = 28;
/** A turn from view to view takes so long, ms. */
const CALM_MS = 220;

/** WebGL is not to be had here. */
export class NoWebGl extends Error {}

/** A turning picture on a canvas. What is shown stands in `set`, in metres, y up; `centre` and `half` say how much of it there is. */
export abstract class Turntable {
  protected renderer: WebGLRenderer;
  protected scene = new Scene();
  protected camera = new PerspectiveCamera(FOV_DEG, 1, 0.05, 200);
  protected set = new Group();
  protected centre = new Vector3();
  protected half = new Vector3(1, 1, 1);
  #view: View = { yaw: 0, pitch: 0, zoom: 1 };
  #from: { view: View; to: View; since: number } | null = null;
  #frame = 0;
  #gone = false;

  /** Refused with `NoWebGl` where the browser has none. */
  constructor(
    readonly canvas: HTMLCanvasElement,
    private calm: boolean,
  ) {
    try {
      this.renderer = new WebGLRenderer({ canvas, antialias: true, powerPreference: 'low-power' });
    } catch (thrown) {
      throw new NoWebGl(String(thrown));
    }
    this.camera.rotation.order = 'YXZ';
    this.scene.add(this.camera, this.set);
  }

  /** The canvas has this size on the page, px. */
  resize(width: number, height: number, ratio: number): void {
    if (width < 1 || height < 1) return;
    this.renderer.setPixelRatio(Math.min(MOST_PIXELS, ratio));
    this.renderer.setSize(width, height, false);
    this.camera.aspect = width / height;
    this.camera.updateProjectionMatrix();
    this.invalidate();
  }

  /** Looks from there: at once, or in one calm turn. */
  look(view: View, calmly: boolean): void {
    this.#from = calmly && this.calm ? { view: this.#view, to: view, since: performance.now() } : null;
    if (!this.#from) this.#view = view;
    this.invalidate();
  }

  /** One frame, as soon as the browser draws. */
  invalidate(): void {
    if (!this.#frame && !this.#gone) this.#frame = requestAnimationFrame((now) => this.#draw(now));
  }

  /** Gives everything back. */
  dispose(): void {
    this.#gone = true;
    cancelAnimationFrame(this.#frame);
    this.clear();
    this.renderer.dispose();
    this.renderer.forceContextLoss();
  }

  /** Puts a thing into the picture. */
  protected add<T extends Object3D>(thing: T): T {
    this.set.add(thing);
    return thing;
  }

  /** Takes everything out of the picture and gives it back. */
  protected clear(): void {
    for (const thing of [...this.set.children]) {
      this.set.remove(thing);
      const mesh = thing as Mesh;
      mesh.geometry.dispose();
      for (const material of [mesh.material].flat()) (material as Material).dispose();
      if (thing instanceof InstancedMesh) thing.dispose();
    }
  }

  #draw(now: number): void {
    this.#frame = 0;
    if (this.#from) {
      const part = Math.min(1, Math.max(0, (now - this.#from.since) / CALM_MS));
      this.#view = turnTo(this.#from.view, this.#from.to, part);
      if (part >= 1) this.#from = null;
      else this.invalidate();
    }
    const { yaw, pitch, zoom } = this.#view;
    const [y, p] = [(yaw * Math.PI) / 180, (pitch * Math.PI) / 180];
    const away = fit([this.half.x, this.half.y, this.half.z], this.#view, FOV_DEG, this.camera.aspect) / zoom;
    this.camera.rotation.set(-p, y, 0);
    this.camera.position.set(Math.sin(y) * Math.cos(p), Math.sin(p), Math.cos(y) * Math.cos(p)).multiplyScalar(away).add(this.centre);
    this.camera.far = away + this.half.length() * 8;
    this.camera.updateProjectionMatrix();
    this.renderer.render(this.scene, this.camera);
    this.canvas.dataset['drawn'] = String(Number(this.canvas.dataset['drawn'] ?? 0) + 1);
  }
}
