// Which component shows which room or place: one line each.
import type { Component } from 'svelte';
import type { PlaceId, RoomId } from '../state/router.svelte';
import People from './books/People.svelte';
import Settings from './books/Settings.svelte';
import Stockroom from './books/Stockroom.svelte';
import Brief from './brief/Brief.svelte';
import Design from './design/Design.svelte';
import JobsPlace from './jobs/JobsPlace.svelte';
import Load from './load/Load.svelte';
import Make from './make/Make.svelte';
import Papers from './papers/Papers.svelte';
import Site from './site/Site.svelte';
import Times from './times/Times.svelte';

/** What a room of a job is given: `rest` is the remainder of the address, such as its tab. The job is in the context. */
export interface RoomProps {
  rest: string[];
}

export const rooms: Partial<Record<RoomId, Component<RoomProps>>> = {
  brief: Brief,
  design: Design,
  make: Make,
  times: Times,
  load: Load,
  site: Site,
  papers: Papers,
};

export const places: Partial<Record<PlaceId, Component<RoomProps>>> = {
  jobs: JobsPlace,
  stockroom: Stockroom,
  people: People,
  settings: Settings,
};
