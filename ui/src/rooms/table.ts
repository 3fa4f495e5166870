// Which component shows which room or place: one line each.
import type { Component } from 'svelte';
import Design from './design/Design.svelte';
import type { PlaceId, RoomId } from '../state/router.svelte';

/** What a room of a job is given: `rest` is the remainder of the address, such as its tab. The job is in the context. */
export interface RoomProps {
  rest: string[];
}

export const rooms: Partial<Record<RoomId, Component<RoomProps>>> = {
  design: Design,
};

export const places: Partial<Record<PlaceId, Component<RoomProps>>> = {};
