/** What has been read so far: parsed items by file, and the names of all items, parsed or not. */
export interface Loaded {
  lists: Record<string, unknown[]>;
  singles: Record<string, unknown>;
  named: Record<string, Set<string>>;
  /** What stands in a list's file beside the list, by its key. */
  beside: Record<string, unknown>;
}

/** Which shape a file has, by its path below rules/knowledge. */
export function shapeOf(path: string): string {
  if (path.startsWith('machines/')) return 'machine.json';
  if (path.startsWith('rules/')) return path.replace('rules/', 'rules-');
  return path;
}
