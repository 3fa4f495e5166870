// Who has the database, and whether a newer version waits: what the host says about itself, as state.
import type { HostState } from '../desk/protocol';

/** The host's own record, which changes in place, and the way to hear of it. */
export interface HostSource {
  readonly state: HostState;
  onChange(f: () => void): () => void;
}

/** The host, as the page shows it. */
export class HostView {
  now = $state.raw<HostState>({ mode: 'starting', detail: '', update: 'none', restarts: 0 });

  constructor(source: HostSource) {
    this.now = { ...source.state };
    source.onChange(() => (this.now = { ...source.state }));
  }

  /** The database is here and open. */
  get ready(): boolean {
    return this.now.mode === 'owner';
  }

  get updateWaits(): boolean {
    return this.now.update === 'update waiting';
  }
}
