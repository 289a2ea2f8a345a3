/** Who gets which papers: the shelves that folder and zip are parted by, and the page's groups. */
export const SHELVES = [
  { id: 'bench', title: 'For the bench' },
  { id: 'laser', title: 'For the laser and the saw, full size' },
  { id: 'print-shop', title: 'For the print shop, full size' },
  { id: 'lists', title: 'Lists' },
  { id: 'solids', title: 'Solids' },
] as const;
export type Shelf = (typeof SHELVES)[number]['id'];

/** A file's place in folder and zip. */
export const onShelf = (shelf: Shelf, name: string): string => `${shelf}/${name}`;
