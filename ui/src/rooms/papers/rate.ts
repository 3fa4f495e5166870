// A tax rate as a quantity: stored in hundredths of a percent, shown as percent.
import { number } from '../../format/number';
import { readNumber, type Quantity } from '../../format/quantity';

/** A rate in hundredths of a percent: "20", "7.7 %", "8,25". */
export const rate: Quantity = {
  read(text) {
    const value = readNumber(text.replace(/%|percent/i, ''));
    return value === null ? [] : [Math.round(value * 100)];
  },
  write: (value) => number(value / 100, 2),
  unit: () => '%',
  step: 100,
  keys: 'decimal',
};
