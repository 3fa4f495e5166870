import { readFileSync } from 'node:fs';
import { describe, expect, test } from 'vitest';
import { amount, type Reading } from './amount';
import { decimals, money } from './money';
import { fixed, number, percent, span } from './number';
import { numbered } from './spaces';
import { day, daysBetween, duration, minuteOfDay, seconds, timeFrom, timeOfDay, wallAt } from './time';
import { blown, distance, fraction, length, mass, opening, temperature, text, volume } from './units';

describe('numbers', () => {
  test('groups from 10,000 up, no idle places', () => {
    expect([number(1180), number(9999), number(10000), number(1234567)]).toEqual(['1180', '9999', '10\u202f000', '1\u202f234\u202f567']);
    expect([number(5.4, 2), number(5, 2), number(0.005, 2), number(-0.001, 2), number(-3)]).toEqual(['5.4', '5', '0.01', '0', '−3']);
    expect(number(NaN)).toBe('–');
  });
  test('columns keep their places', () => expect([fixed(2.6, 2), fixed(-0.004, 2)]).toEqual(['2.60', '0.00']));
  test('percent and ranges', () => expect([percent(62), span('6', '10 in'), span('8', '8')]).toEqual(['62\u00a0%', '6 to 10 in', '8']));
});

test('the number at the end of a name stays in one line', () =>
  expect([numbered('Hall chain, chain 2 of 2'), numbered('Two of hearts'), numbered('2 of 3 swags')]).toEqual([
    'Hall chain, chain 2\u00a0of\u00a02',
    'Two of hearts',
    '2 of 3 swags',
  ]));

describe('money', () => {
  test('cents only where there are some', () => {
    expect([money(118000, 'EUR'), money(3250, 'EUR'), money(-500, 'GBP'), money(118000, 'EUR', true)]).toEqual([
      '€\u00a01,180',
      '€\u00a032.50',
      '−£\u00a05',
      '€\u00a01,180.00',
    ]);
  });
  // ISO 4217, list one, as the backend reads it too
  test('decimals are those of the standard', () => {
    const rows = readFileSync(`${import.meta.dirname}/../../../tests/data/currencies.csv`, 'utf8').trim().split('\n').slice(1).map((row) => row.split(','));
    expect(rows.length).toBeGreaterThan(150);
    for (const [code = '', , places] of rows) expect([code, String(decimals(code))]).toEqual([code, places]);
    expect([money(118000, 'JPY'), money(-5, 'KRW', true), money(1250, 'KWD'), money(2000, 'BHD', true)]).toEqual([
      '¥\u00a0118,000',
      '−₩\u00a05',
      'KWD\u00a01.250',
      'BHD\u00a02.000',
    ]);
  });
  test('a currency that is no code is shown as written', () => expect(money(100, '??')).toBe('??\u00a01'));
});

describe('measures', () => {
  test('lengths', () => {
    expect(text(length(5400, 'metric'))).toBe('5.4\u00a0m');
    // 5.4 m is 17 ft 8.6 in
    expect(text(length(5400, 'us'))).toBe('17\u00a0ft\u00a08½\u00a0in');
    expect(text(length(3048, 'us'))).toBe('10\u00a0ft');
    expect(text(length(279, 'us'))).toBe('11\u00a0in');
    // 11.99 in rounds up to a foot, never to "0 ft 12 in"
    expect(text(length(304, 'us'))).toBe('1\u00a0ft');
  });
  test('openings are exact', () => expect([text(opening(920, 'metric')), text(opening(920, 'us'))]).toEqual(['0.92\u00a0m', '36¼\u00a0in']));
  test('blown to the half inch', () => expect([text(blown(215.9)), text(blown(228))]).toEqual(['8½\u00a0in', '9\u00a0in']));
  test('volume, mass, way, warmth', () => {
    expect([text(volume(3200, 'metric')), text(volume(3200, 'us')), text(volume(45, 'metric'))]).toEqual(['3.2\u00a0m³', '113\u00a0ft³', '45\u00a0L']);
    expect([text(mass(40000, 'metric')), text(mass(40000, 'us')), text(mass(750, 'metric'))]).toEqual(['40\u00a0kg', '88\u00a0lb', '750\u00a0g']);
    expect([text(distance(41000, 'metric')), text(distance(41000, 'us'))]).toEqual(['41\u00a0km', '25\u00a0mi']);
    expect([text(temperature(215, 'metric')), text(temperature(215, 'us'))]).toEqual(['21.5\u00a0°C', '71\u00a0°F']);
  });
  test('fractions', () => expect([0.5, 8.25, 8.75, 10, -1.5, 8.4].map(fraction)).toEqual(['½', '8¼', '8¾', '10', '−1½', '8.4']));
});

describe('times', () => {
  test('durations', () => {
    expect([7, 59.6, 60, 76, 125, 0, -5].map(duration)).toEqual(['7\u00a0min', '1\u00a0h', '1\u00a0h', '1\u00a0h\u00a016', '2\u00a0h\u00a005', '0\u00a0min', '−5\u00a0min']);
    expect([45, 90, 120, 900].map(seconds)).toEqual(['45\u00a0s', '1\u00a0min\u00a030', '2\u00a0min', '15\u00a0min']);
  });
  test('times of day by either clock', () => {
    expect([0, 570, 720, 750, 1439, 1500].map((m) => minuteOfDay(m, '24h'))).toEqual(['00:00', '09:30', '12:00', '12:30', '23:59', '01:00']);
    expect([0, 570, 720, 1439].map((m) => minuteOfDay(m, '12h'))).toEqual(['12:00\u00a0am', '9:30\u00a0am', '12:00\u00a0pm', '11:59\u00a0pm']);
    expect([timeOfDay('2027-06-12T10:30', '24h'), timeOfDay('', '24h')]).toEqual(['10:30', '–']);
  });
  test('days', () => {
    expect([day('2027-06-12T10:30'), day('2027-06-12', true), day('2027-02-30'), day('')]).toEqual(['Sat 12 June', 'Sat 12 June 2027', '–', '–']);
    expect(daysBetween('2027-03-27T12:00', '2027-03-29')).toBe(2);
  });
  test('the day stands before a time that is not on it', () => {
    expect(timeFrom('2027-06-13T10:00', '2027-06-12', '24h')).toBe('Sun\u00a010:00');
    expect(timeFrom('2027-06-12T10:00', '2027-06-12T08:00', '24h')).toBe('10:00');
    expect(timeFrom('2027-06-30T10:00', '2027-06-12', '24h')).toBe('Wed 30 June 10:00');
  });
  test('an instant in the zone of the venue, across the spring change of 2027 in London (IANA: 28 March, 01:00 UTC)', () => {
    expect(wallAt(Date.UTC(2027, 2, 28, 0, 59), 'Europe/London')).toBe('2027-03-28T00:59');
    expect(wallAt(Date.UTC(2027, 2, 28, 1, 0), 'Europe/London')).toBe('2027-03-28T02:00');
    expect([wallAt(null, 'Europe/London'), wallAt(0, 'Nowhere/Such')]).toEqual(['', '']);
  });
});

test('amounts of the plan by their unit', () => {
  const how: Reading = { units: 'metric', clock: '24h', zone: 'Europe/London', day: '2027-06-12', currency: 'EUR' };
  const at = Date.UTC(2027, 5, 12, 7, 0);
  expect([
    amount(300, 'balloons', how),
    amount(5400, 'mm', how),
    amount(3_200_000, 'ml', how),
    amount(4560, 's', how),
    amount(118000, 'cents', how),
    amount(at, 'ms', how),
    amount(3, 'bags', how),
  ]).toEqual(['300', '5.4\u00a0m', '3.2\u00a0m³', '1\u00a0h\u00a016', '€\u00a01,180.00', '08:00', '3 bags']);
});
