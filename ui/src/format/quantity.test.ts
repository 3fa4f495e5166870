import { describe, expect, test } from 'vitest';
import { cents, count, diameters, distances, lengths, masses, minutes, readNumber, stepped, temperatures } from './quantity';

// exact: 1 in is 25.4 mm, 1 ft 304.8 mm, 1 mi 1609.344 m, 1 lb 453.59237 g (international yard and pound, 1959)

describe('a number as people write it', () => {
  test.each([
    ['170', 170],
    [' 1.7 ', 1.7],
    ['1,7', 1.7],
    ['.5', 0.5],
    ['1,180', 1180],
    ['1,180.50', 1180.5],
    ['12\u202f000', 12000],
    ['12 000', 12000],
    ['8½', 8.5],
    ['½', 0.5],
    ['8 1/2', 8.5],
    ['3/4', 0.75],
    ['−3', -3],
    ['-2½', -2.5],
  ])('%s', (text, value) => expect(readNumber(text)).toBe(value));

  test.each(['', 'abc', '1.2.3', '1/0', '1 7', '--3', 'NaN', 'Infinity', '1e9', '½5', '99999999999999999999'])('%s is none', (text) =>
    expect(readNumber(text)).toBeNull(),
  );
});

describe('a length in metres', () => {
  const q = lengths('metric');
  test.each([
    ['5.4', 5400],
    ['1.7 m', 1700],
    ['1,7 m', 1700],
    ['170 cm', 1700],
    ['1700mm', 1700],
    ['5 ft 6', 1676],
    ['5 ft 6 in', 1676],
    ["5'6\"", 1676],
    ['5’ 6½”', 1689],
    ['10 ft', 3048],
    ['66 in', 1676],
  ])('%s', (text, mm) => expect(q.read(text)[0]).toBe(mm));

  test('170 alone may be metres or centimetres: the field takes what fits its range', () => {
    expect(q.read('170')).toEqual([170000, 1700]);
  });
  test('what is no length is refused', () => {
    expect(q.read('long')).toEqual([]);
    expect(q.read('5 ft x')).toEqual([]);
    expect(q.read('')).toEqual([]);
  });
  test('is written in metres', () => {
    expect([q.write(5400), q.unit(5400)]).toEqual(['5.4', 'm']);
    expect(q.write(920)).toBe('0.92');
  });
});

describe('a length in feet and inches', () => {
  const q = lengths('us');
  test('a bare number is feet, or inches', () => expect(q.read('66')).toEqual([20117, 1676]));
  test('metric is understood there too', () => expect(q.read('1.7 m')).toEqual([1700]));
  test('what it writes, it reads back to the half inch', () => {
    for (let halves = 1; halves < 400; halves += 7) {
      const mm = Math.round(halves * 12.7);
      const text = `${q.write(mm)} ${q.unit(mm)}`;
      expect(Math.abs((q.read(text)[0] ?? NaN) - mm)).toBeLessThanOrEqual(1);
    }
  });
});

describe('other quantities', () => {
  test('a diameter is in inches to the half', () => {
    const q = diameters();
    expect(q.read('8½')).toEqual([2159]);
    expect(q.read('8.5 in')).toEqual([2159]);
    expect(q.read('21.59 cm')).toEqual([2159]);
    expect(q.write(2159)).toBe('8½');
    expect(q.write(2540)).toBe('10');
  });
  test('minutes, hours and minutes', () => {
    const q = minutes();
    expect(['90', '1 h 30', '1:30', '1.5 h', '90 min', '1h30'].map((s) => q.read(s)[0])).toEqual([90, 90, 90, 90, 90, 90]);
    expect([q.write(76), q.unit(76)]).toEqual(['1\u00a0h\u00a016', '']);
    expect([q.write(60), q.write(7), q.unit(7)]).toEqual(['1\u00a0h', '7', 'min']);
  });
  test('money is kept in cents', () => {
    const q = cents('EUR');
    expect(['32.50', '32,50', '€ 32.50', '32.5 EUR', '1,180'].map((s) => q.read(s)[0])).toEqual([3250, 3250, 3250, 3250, 118000]);
    expect([q.write(3250), q.write(118000), q.write(1200000)]).toEqual(['32.50', '1180', '12\u202f000']);
  });
  test('money has the decimals of its currency', () => {
    const [yen, dinar] = [cents('JPY'), cents('KWD')];
    expect(['32,000', '¥ 320', '320.4'].map((s) => yen.read(s)[0])).toEqual([32000, 320, 320]);
    expect([yen.write(32000), yen.write(320), yen.keys]).toEqual(['32\u202f000', '320', 'numeric']);
    expect([dinar.read('1.25')[0], dinar.write(1250), dinar.write(2000)]).toEqual([1250, '1.250', '2']);
  });
  test('counts lose their word', () => expect(count('balloon', 'balloons').read('12 balloons')).toEqual([12]));
  test('mass, distance, temperature', () => {
    expect(masses('metric').read('40')).toEqual([40000]);
    expect(masses('us').read('88 lb')).toEqual([39916]);
    expect(distances('metric').read('41')).toEqual([410]);
    expect(distances('us').read('25')).toEqual([402]);
    expect(temperatures('us').read('70')).toEqual([211]);
    expect(temperatures('metric').read('-3 C')).toEqual([-30]);
  });
});

describe('a step', () => {
  test('goes to the next step, and from between two steps to the nearer side', () => {
    const q = lengths('metric');
    expect(stepped(q, 5400, 1)).toBe(5450);
    expect(stepped(q, 5410, 1)).toBe(5450);
    expect(stepped(q, 5410, -1)).toBe(5400);
  });
  test('goes up and down again to the same inch, although millimetres are whole', () => {
    const q = lengths('us');
    let mm = 305;
    for (let i = 0; i < 40; i++) mm = stepped(q, mm, 1);
    expect(q.write(mm)).toBe('4\u00a0ft\u00a04');
    for (let i = 0; i < 40; i++) mm = stepped(q, mm, -1);
    expect(mm).toBe(305);
  });
});
