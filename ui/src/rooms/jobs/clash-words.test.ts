// Double bookings and short rests in words and in order. The jobs and hours are made up; the rest is that of a job that ends at 00:27 and
// the next at 09:40 (Ben) and 10:48 (Ada): 9 h 13 and 10 h 21 by hand.
import { describe, expect, test } from 'vitest';
import type { JobRow, Plan } from '../../desk';
import { verdict } from '../times/verdict';
import { clashFindings, impossible, shorts, taken, tired } from './clash-words';
import { foremost, inOrder } from './needs';
import type { Booked, Rest } from './together.svelte';

const plainly = (s: string | undefined) => s?.replace(/\u00a0/g, ' ').replace(/\u202f/g, ' ');
const row = (id: string, stage: JobRow['stage'] = 'booked'): JobRow => ({
  id,
  name: id,
  occasion: '',
  stage,
  venue: '',
  zone: 'Europe/London',
  ready_by: '2026-12-17T16:00',
  ready_by_ms: Date.UTC(2026, 11, 17, 16),
  pieces: 1,
  ticked: 0,
  gone: false,
  apart: 0,
  changed_ms: 0,
});
const [thu, fri, sat] = [row('Thursday'), row('Friday'), row('Saturday')];
const rest = (name: string, to: [number, number], more: Partial<Rest> = {}): Rest => ({
  name,
  rule: 'daily',
  one: thu,
  other: fri,
  from_ms: Date.UTC(2026, 11, 18, 0, 27),
  to_ms: Date.UTC(2026, 11, 18, ...to),
  ...more,
});
const wants = (name: string, one: JobRow, other: JobRow): Booked => ({ kind: 'person', name, one, other, from_ms: Date.UTC(2026, 11, 17, 9, 40), to_ms: Date.UTC(2026, 11, 17, 10) });

describe('short rests', () => {
  test('each person has their own, the shortest first', () => {
    const [short] = shorts([rest('Ada', [10, 48]), rest('Ben', [9, 40])]);
    expect(plainly(short && tired(short))).toBe('Ben 9 h 13 and Ada 10 h 21 between Thursday and Friday, so less than 11 h of rest in a row within 24 h.');
  });

  test('who rests as long is named together, and another night stands by itself', () => {
    const list = shorts([rest('Ada', [9, 40]), rest('Ben', [9, 40]), rest('Ben', [9, 40], { one: fri, other: sat })]);
    expect(list.map((s) => plainly(tired(s)))).toEqual([
      'Ada and Ben: 9 h 13 between Thursday and Friday, so less than 11 h of rest in a row within 24 h.',
      'Ben: 9 h 13 between Friday and Saturday, so less than 11 h of rest in a row within 24 h.',
    ]);
  });
});

describe('three jobs at one hour', () => {
  const all = [wants('Ada', thu, fri), wants('Van', thu, fri), wants('Ada', thu, sat), wants('Ada', fri, sat)];
  const ofThu = all.slice(0, 3);

  test('must be solved, in every one of them', () => {
    expect(clashFindings(ofThu, [], thu.id, '24h').map((f) => f.severity)).toEqual(['stop', 'stop']);
    expect([...impossible(all)].sort()).toEqual(['Friday', 'Saturday', 'Thursday']);
  });

  test('the head of Times says who is wanted elsewhere, and not that they are enough', () => {
    const job = { crew: { a: { name: 'Ada', gone: false, order: 'a' } } } as unknown as Parameters<typeof verdict>[0];
    const plan = { findings: [], figures: { work_s: 3600 } } as unknown as Plan;
    const elsewhere = taken(ofThu, thu.id, '24h');
    expect(plainly(elsewhere)).toBe('Ada and Van: also wanted by Friday and Saturday, Thu 17 December, 09:40.');
    expect(verdict(job, plan, elsewhere)).toBe(`This does not work yet. ${elsewhere}`);
    expect(verdict(job, plan, taken([], thu.id, '24h'))).toContain('Ada alone is enough.');
  });

  test('people come first, and of many things so many are named', () => {
    const thing = (name: string): Booked => ({ ...wants(name, thu, fri), kind: 'kit' });
    const many = [...['Pump', 'Ladder', 'Case', 'Plate'].map(thing), wants('Ben', thu, fri), { ...wants('Van', thu, fri), kind: 'vehicle' as const }];
    expect(plainly(taken(many, thu.id, '24h'))).toBe('Ben, Van, Pump, Ladder and 2 more: also wanted by Friday, Thu 17 December, 09:40.');
    expect(plainly(taken(many.slice(1), thu.id, '24h'))).toContain('Ben, Van, Ladder, Case and Plate: also');
  });

  test('one that is only asked for is still to be decided', () => {
    const asked = [wants('Ada', thu, row('Asked', 'enquiry'))];
    expect(clashFindings(asked, [], thu.id, '24h').map((f) => f.severity)).toEqual(['care']);
    expect(taken(asked, thu.id, '24h')).toBe('');
    expect(impossible(asked).size).toBe(0);
  });

  test('comes first, short rests last; on a telephone only the worst is seen', () => {
    const need = (code: string, severity: string) => ({ finding: { code, severity } });
    const needs = inOrder([need('clash_rest', 'care'), need('long', 'care'), need('late', 'stop'), need('clash', 'care'), need('clash', 'stop')]);
    expect(needs.map((n) => `${n.finding.code} ${n.finding.severity}`)).toEqual(['clash stop', 'late stop', 'clash care', 'long care', 'clash_rest care']);
    expect(foremost(needs, true).length).toBe(1);
    expect(foremost(needs, false).length).toBe(3);
    expect(foremost(needs.slice(0, 4), false).length).toBe(4);
  });
});
