// Where the user is, from the part of the address after `#`: works from any folder of any host, and offline.

/** The seven rooms of a job, in the order of the work. */
export const ROOMS = ['brief', 'design', 'make', 'times', 'load', 'site', 'papers'] as const;
export type RoomId = (typeof ROOMS)[number];

/** The places beside the jobs' rooms. */
export const PLACES = ['jobs', 'stockroom', 'people', 'settings'] as const;
export type PlaceId = (typeof PLACES)[number];

/** A place, or a room of a job; `rest` is what a room does with the remainder of the address, such as its tab. */
export type Route =
  | { kind: 'place'; place: PlaceId | 'parts'; rest: string[] }
  | { kind: 'room'; job: string; room: RoomId; rest: string[] };

/** The route of an address's hash. What cannot be read leads to Jobs. */
export function parse(hash: string): Route {
  const words = hash.replace(/^#?\/?/, '').split('/').filter(Boolean).map(decoded);
  const [first = 'jobs', second, third] = words;
  if (first === 'job' && second) {
    const room = ROOMS.find((r) => r === third);
    return { kind: 'room', job: second, room: room ?? 'brief', rest: room ? words.slice(3) : [] };
  }
  const place = [...PLACES, 'parts' as const].find((p) => p === first);
  return place ? { kind: 'place', place, rest: words.slice(1) } : { kind: 'place', place: 'jobs', rest: [] };
}

/** The hash of a room of a job, for links. */
export function toRoom(job: string, room: RoomId, ...rest: string[]): string {
  return ['#', 'job', encodeURIComponent(job), room, ...rest.map(encodeURIComponent)].join('/');
}

/** The hash of a place, for links. */
export function toPlace(place: PlaceId | 'parts', ...rest: string[]): string {
  return ['#', place, ...rest.map(encodeURIComponent)].join('/');
}

/** The current route, kept in step with the address. */
export class Router {
  route = $state.raw<Route>(parse(''));

  constructor(private page: Window = window) {
    this.route = parse(page.location.hash);
    page.addEventListener('hashchange', () => (this.route = parse(page.location.hash)));
  }

  /** Goes to a hash made by `toRoom` or `toPlace`. */
  go(hash: string): void {
    this.page.location.hash = hash;
  }

  /** The job that the address names, or null beside the jobs. */
  get job(): string | null {
    return this.route.kind === 'room' ? this.route.job : null;
  }
}

function decoded(word: string): string {
  try {
    return decodeURIComponent(word);
  } catch {
    return word;
  }
}

export const router = new Router();
