// Words of the season's ledger by its parts.

export const seasonWords = {
  title: 'Season',
  by: { field: 'Fields', machine: 'Machines', operator: 'Drivers', day: 'Days', destination: 'Destinations', grower: 'Growers' } as Record<string, string>,
  columns: { name: 'Name', area: 'Area', standing: 'Standing', tails: 'Tails', over_topping: 'Crown', left: 'Left behind', storage: 'Storage', recovered: 'Recovered', paid: 'Paid' } as Record<string, string>,
  csv: 'Download as CSV',
  report: 'The report as a page',
  fineReport: 'The report with steadier ranges',
  fineNote: 'Fifty times as many draws; the server takes some seconds for it.',
  reckoning: (percent: number) => `The report is being reckoned: ${percent} %`,
  stop: 'Stop',
  sorted: (column: string) => `sorted by ${column}`,
};
