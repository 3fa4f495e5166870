import { describe, expect, it } from 'vitest';
import { changes } from './moments';
import { rate } from './rate';

describe('tax rate', () => {
  it('is read as percent and stored in hundredths of a percent', () => {
    expect(rate.read('20')).toEqual([2000]);
    expect(rate.read('7.7 %')).toEqual([770]);
    expect(rate.read('8,25')).toEqual([825]);
    expect(rate.read('none')).toEqual([]);
  });
  it('is written without digits that say nothing', () => {
    expect([rate.write(2000), rate.write(770), rate.write(825), rate.write(0)]).toEqual(['20', '7.7', '8.25', '0']);
  });
});

describe('what changed since a moment', () => {
  const now = { balloons: 310, garland_mm: 5400, volume_ml: 3_000_000, work_s: 7200 };
  it('names only figures that differ, in the order of the tape', () => {
    expect(changes({ balloons: 300, garland_mm: 5400, volume_ml: 3_100_000, work_s: 7200 }, now)).toEqual([
      { name: 'balloons', unit: 'balloons', then: 300, now: 310 },
      { name: 'volume_ml', unit: 'ml', then: 3_100_000, now: 3_000_000 },
    ]);
  });
  it('leaves out what was not kept then, and knows nought from missing', () => {
    expect(changes({ work_s: 0 }, now)).toEqual([{ name: 'work_s', unit: 's', then: 0, now: 7200 }]);
  });
});
