export const countedSites = (count: number): string => (count === 1 ? "1 site" : `${count} sites`);
