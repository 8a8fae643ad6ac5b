import { describe, expect, it } from 'vitest';
import { parseQuantity } from '../../src/quantity/index.js';

function area(text: string): number {
  const result = parseQuantity(text, 'area');
  if (!result.ok) throw new Error(result.problem.message);
  return result.quantity.si;
}

const diameter = (text: string) => Math.sqrt((4 * area(text)) / Math.PI) / 0.0254;

describe('American wire gauge', () => {
  // ASTM B258-02: diameter = 0.005 in × 92^((36 − n)/39); 36 AWG and 0000 AWG fix the series.
  it.each([
    ['36 AWG', 0.005],
    ['0000 AWG', 0.46],
    ['4/0 AWG', 0.46],
  ])('%s has a diameter of %s in by definition', (text, inches) =>
    expect(diameter(text)).toBeCloseTo(inches, 12),
  );

  it('grows by 1.1229322 from one size to the next (ASTM B258-02)', () => {
    expect(diameter('11 AWG') / diameter('12 AWG')).toBeCloseTo(1.1229322, 7);
    expect(diameter('0 AWG') / diameter('1 AWG')).toBeCloseTo(1.1229322, 7);
    expect(diameter('2/0 AWG') / diameter('1/0 AWG')).toBeCloseTo(1.1229322, 7);
  });

  // Diameter in mils and area in circular mils, from the NBS copper wire tables as reprinted in a wire
  // resistance table of a maker of cable testers. Row 13 prints 71.901 mil, which its own circular mils
  // (5178.4 = 71.961²) show to be a slip for 71.961.
  it.each([
    [12, 80.808, 6529.9],
    [13, 71.961, 5178.4],
    [14, 64.084, 4106.8],
    [15, 57.068, 3256.7],
    [16, 50.82, 2582.9],
    [17, 45.257, 2048.2],
    [18, 40.303, 1624.3],
    [19, 35.89, 1288.1],
    [20, 31.961, 1021.5],
    [22, 25.347, 642.4],
    [24, 20.1, 404.01],
    [28, 12.641, 159.79],
    [30, 10.025, 100.5],
  ])('%s AWG is %s mil and %s circular mils', (gauge, mils, circular) => {
    expect(Math.abs((diameter(`${gauge} AWG`) * 1000) / mils - 1)).toBeLessThan(4e-5);
    expect(Math.abs(area(`${gauge} AWG`) / area(`${circular} cmil`) - 1)).toBeLessThan(1.1e-4);
  });
});

describe('specific consumption', () => {
  it('1 lb/(hp h) is 608.277 g/kWh (Wikipedia, brake-specific fuel consumption)', () => {
    const [us, metric] = ['1 lb/(hp h)', '608.277 g/kWh'].map((text) =>
      parseQuantity(text, 'specific-consumption'),
    );
    if (!us?.ok || !metric?.ok) throw new Error('not read');
    expect(us.quantity.si / metric.quantity.si).toBeCloseTo(1, 5);
  });
});
