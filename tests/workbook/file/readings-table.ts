/** A table of every kind of column, without rows. */
import type { Column, Table } from '../../../src/workbook/document.ts';

export const column = (name: string, more: Partial<Column> = {}): Column => ({
  id: `c-${name}`,
  name,
  label: '',
  type: 'number',
  unit: '',
  note: '',
  ...more,
});
export const readings: Table = {
  kind: 'table',
  id: 'readings',
  name: 'readings',
  label: '',
  note: '',
  columns: [
    column('test', { type: 'text', label: 'Test' }),
    column('house_pressure', { label: 'Pressure of the house, average', unit: 'Pa' }),
    column('fan_range', { type: 'choice', choices: ['open', 'mid', 'low'] }),
    column('measured_flow', { label: 'Flow', unit: 'cfm' }),
    column('temperature', { unit: 'degC' }),
    column('induced', { formula: 'abs(house_pressure)', unit: 'Pa' }),
  ],
  rows: [],
};
