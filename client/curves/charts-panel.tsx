import type { Units } from '../types.ts';
import { Chart } from './chart.tsx';
import { type CurveData, chartsOf } from './charts.ts';
import './curves.css';

export const Charts = ({ curves, units }: { curves: CurveData; units: Units }) => (
  <>
    {chartsOf(curves, units).map((chart) => (
      <Chart key={chart.id} chart={chart} />
    ))}
  </>
);
