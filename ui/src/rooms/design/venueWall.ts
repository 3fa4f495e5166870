// The photograph of the venue as a wall behind the picture that turns.
import { Float32BufferAttribute, Mesh, MeshBasicMaterial, PlaneGeometry, SRGBColorSpace, TextureLoader } from 'three';
import type { Texture } from 'three';
import type { Ground } from './photo-scale';

/** So far behind the hindmost piece, m. */
const BEHIND = 0.02;
/** How bright it is in a dark hall. */
const DIM = 0.8;
const MM = 1000;

/** A wall with the photograph on its front, from the floor up. It is seen from the front alone. */
export class VenueWall {
  readonly plane = new Mesh(new PlaneGeometry(1, 1), new MeshBasicMaterial());
  #url = '';
  #texture: Texture | null = null;

  /** `drawn` is told when the photograph has come. */
  constructor(private drawn: () => void) {
    this.plane.visible = false;
  }

  /** Stands it behind what reaches back to `z`, m, or takes it away. */
  show(ground: Ground | null, z: number, dark: boolean): void {
    this.#load(ground?.url ?? '');
    this.plane.visible = ground !== null && ground.top > 0 && this.#texture !== null;
    if (!ground || ground.top <= 0) return;
    // what lies below the floor is not shown
    const high = Math.min(ground.height, ground.top);
    const cut = 1 - high / ground.height;
    this.plane.scale.set(ground.width / MM, high / MM, 1);
    this.plane.position.set((ground.left + ground.width / 2) / MM, (ground.top - high / 2) / MM, Math.min(z, 0) - BEHIND);
    this.plane.geometry.setAttribute('uv', new Float32BufferAttribute([0, 1, 1, 1, 0, cut, 1, cut], 2));
    this.plane.material.color.setScalar(dark ? DIM : 1);
  }

  /** Gives everything back. */
  dispose(): void {
    this.#texture?.dispose();
    this.plane.geometry.dispose();
    this.plane.material.dispose();
  }

  #load(url: string): void {
    if (url === this.#url) return;
    this.#url = url;
    this.#texture?.dispose();
    this.#texture = null;
    if (url === '') return;
    const texture = new TextureLoader().load(url, () => {
      this.plane.material.needsUpdate = true;
      this.drawn();
    });
    texture.colorSpace = SRGBColorSpace;
    this.#texture = this.plane.material.map = texture;
  }
}
