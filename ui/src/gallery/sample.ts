// Invented things for looking at the parts.
import type { TapeFigure } from '../frame/tape';
import type { Reading } from '../format/amount';
import type { Shade } from '../parts/pattern';
import type { RoomId } from '../state/router.svelte';

const shade = (name: string, srgb: string, pattern: Shade['pattern']): Shade => ({ name, srgb, pattern });

export const rose = shade('Old rose', '#d9798a', 'hatched');
export const ivory = shade('Ivory', '#f3ead8', 'plain');
export const sage = shade('Sage', '#a9b89a', 'dotted');
export const slate = shade('Slate', '#46505c', 'barred');
export const plum = shade('Plum', '#5b2a45', 'crossed');
export const sky = shade('Sky', '#a9cbe0', 'waved');
export const honey = shade('Honey', '#e0a63c', 'ringed');
export const pine = shade('Pine', '#1f4a3c', 'checked');
export const palette = [rose, ivory, sage, slate, plum, sky, honey, pine];

export const figures: TapeFigure[] = [
  { id: 'balloons', figure: '300', unit: '', word: 'balloons', asks: true },
  { id: 'garland', figure: '5.4', unit: 'm', word: 'garland', asks: true },
  { id: 'start_by', figure: '08:00', unit: '', word: 'start by', asks: true },
  { id: 'leave_by', figure: '09:30', unit: '', word: 'leave by', asks: true },
  { id: 'volume', figure: '3.2', unit: 'm³', word: 'volume', asks: true },
  { id: 'price', figure: '€ 1,180', unit: '', word: 'price', asks: true },
];

export const why = {
  title: 'Balloons',
  unit: 'balloons',
  total: 300,
  terms: [
    { label: 'Jetty arch, 20 sixes and 4 quads', value: 136 },
    { label: 'Fillers', value: 60 },
    { label: 'Rail accents, 6 of 8', value: 48 },
    { label: 'Loft chains, 4 of 14', value: 56 },
  ],
  rule: 'Every balloon that is blown, without spares.',
};

export const reading: Reading = {
  units: 'metric',
  clock: '24h',
  zone: 'Europe/London',
  day: '2027-06-12',
  currency: 'EUR',
};

const finding = (severity: 'stop' | 'care' | 'note', room: RoomId, message: string, action: string, fixes: string[] = []) => ({
  code: `sample_${severity}`,
  severity,
  room,
  message,
  action,
  path: [],
  fixes: fixes.map((label) => ({ label, edits: [] as never[] })),
});

export const findings = [
  finding('care', 'design', 'One ivory 11 in is left over.', 'Give it a partner, leave it out, or pair it with the odd rose.', [
    'Add one',
    'Drop one',
    'Mixed pair',
  ]),
  finding('stop', 'make', 'Old rose 16 in: 15 needed, none on hand.', 'Order one bag of 25 by Tue 8 June.'),
  finding('note', 'load', 'The frame is carried in three parts.', 'Twelve minutes are planned for joining it.'),
];

export const six = [
  { shade: rose, diameter: 14, figure: '16' },
  { shade: rose, diameter: 14, figure: '16' },
  { shade: ivory, diameter: 8.5, figure: '11' },
  { shade: ivory, diameter: 8.5, figure: '11' },
  { shade: slate, diameter: 8.5, figure: '11' },
  { shade: sage, diameter: 8.5, figure: '11' },
];
export const quad = [rose, rose, ivory, ivory].map((s) => ({ shade: s, diameter: 8.5, figure: '11' }));
export const eight = [honey, honey, sky, sky, plum, plum, pine, pine].map((s, i) => ({
  shade: s,
  diameter: i % 2 === 0 ? 9 : 6,
  figure: i % 2 === 0 ? '11' : '9',
}));
