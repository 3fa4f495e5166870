import { expect, test } from 'vitest';
import type { Job, Load, Plan, Vehicle } from '../../desk';
import { wheelArches } from './arches';
import { cell, quads } from './labels3d';
import { LOAD, parcel } from './sample.testing';
import { tints } from './tints';
import { tryAll, type Tried } from './tried';
import { portals } from './way';

test('each code has its own cell of the picture, and its quads lie just off the faces of its box', () => {
  const cells = Array.from({ length: 30 }, (_, i) => cell(i, 30).map((v) => v.toFixed(6)).join());
  expect(new Set(cells).size).toBe(30);
  const made = quads([{ code: 'B1', middle: [1, 1, 1], sides: [0.6, 0.4, 0.2], ink: '#000000', chip: null }], () => [0, 0, 1, 1]);
  expect(made.positions.length).toBe(5 * 6 * 3);
  expect(made.uvs.length).toBe(5 * 6 * 2);
  for (let i = 0; i < made.positions.length; i += 3) {
    const off = [0, 1, 2].map((k) => Math.abs((made.positions[i + k] ?? 0) - 1) / ([0.3, 0.2, 0.1][k] ?? 1));
    expect(Math.max(...off)).toBeGreaterThan(1);
    // never beyond the face that it lies on
    expect([...off].sort((a, b) => a - b)[1]).toBeLessThan(1);
  }
});

test('wheel arches stand within the space, one on each side', () => {
  for (const v of [{ length_mm: 3400, width_mm: 1700, height_mm: 1800 }, { length_mm: 900, width_mm: 1000, height_mm: 300 }]) {
    const [left, right] = wheelArches(v);
    expect(left?.y_mm).toBe(0);
    expect((right?.y_mm ?? 0) + (right?.width_mm ?? 0)).toBe(v.width_mm);
    for (const b of wheelArches(v)) {
      expect(b.x_mm >= 0 && b.x_mm + b.length_mm <= v.length_mm && b.height_mm < v.height_mm).toBe(true);
    }
  }
});

test('every vehicle is tried for the same job, and told as soon as it is known', async () => {
  const seen: string[] = [];
  const told: string[][] = [];
  const job = { name: 'A job', vehicle: { name: 'Old' } } as Job;
  const plan = async (asked: Job) => {
    seen.push(asked.vehicle.name);
    const stuck = asked.vehicle.name === 'Hatchback';
    return { load: { ...LOAD, trips: 2, stowed: true, parcels: stuck ? LOAD.parcels.map((p) => ({ ...p, stuck_at: 'Hatchback' })) : LOAD.parcels } as unknown as Load } as Plan;
  };
  const all: Tried[] = await tryAll(job, [{ id: 'a', vehicle: { name: 'Hatchback' } as Vehicle }, { id: 'b', vehicle: { name: 'Van' } as Vehicle }], plan, (known) => told.push(known.map((k) => k.id)));
  expect(seen).toEqual(['Hatchback', 'Van']);
  expect(told).toEqual([['a'], ['a', 'b']]);
  expect(all.map((t) => [t.id, t.trips, t.stuck.length, t.full_pct])).toEqual([['a', 2, 5, 20], ['b', 2, 0, 20]]);
  expect(job.vehicle.name).toBe('Old');
});

test('on the way each portal names who does not pass, and a door what leaves least room', () => {
  const door = { kind: 'door', second_mm: 0, landing_mm: 0, car_width_mm: 0, car_depth_mm: 0, car_height_mm: 0, load_g: 0, gone: false };
  const job = {
    vehicle: { name: 'Van', door_width_mm: 1500, door_height_mm: 1700 },
    doors: { lift: { ...door, name: 'Lift', kind: 'lift', width_mm: 800, height_mm: 2000, order: 'b' }, side: { ...door, name: 'Side door', width_mm: 860, height_mm: 1980, order: 'a' } },
  } as unknown as Job;
  const tall = parcel('C9', [0, 0, 0], [2300, 400, 200], { stuck_at: 'Lift', stuck: { door: 'lift', kind: 'lift', name: 'Lift', side: 'length', by_mm: 130, cure: '' } });
  const way = portals(job, { ...LOAD, parcels: [...LOAD.parcels, tall] } as unknown as Load);
  expect(way.map((p) => [p.name, p.kind, p.stuck.map((s) => s.code)])).toEqual([['Van, its door', 'door', []], ['Side door', 'door', []], ['Lift', 'lift', ['C9']]]);
  // B1, 900 x 700 x 700, through 860 x 1980: 860 - 700
  expect(way[1]?.tightest?.spare_mm).toBe(160);
});

test('bags of two pieces have two colours where their recipes allow it', () => {
  const piece = (id: string, balls: [string, number][]) => ({ piece: id, garland: { counts: balls.map(([colour, n]) => ({ colour, inside: '', size_in: 11, balls: n })), fillers: [] }, chain: null, made: null });
  const plan = { pieces: [piece('arch', [['ivory', 90], ['rose', 40]]), piece('swag', [['ivory', 50], ['rose', 20], ['lost', 30]]), piece('more', [['ivory', 9]]), piece('frame', [])] } as unknown as Plan;
  const colours = { ivory: { srgb: '#f4ead7' }, rose: { srgb: '#d9738a' } };
  expect([...tints(plan, colours)]).toEqual([['arch', '#f4ead7'], ['swag', '#d9738a'], ['more', '#f4ead7']]);
});
