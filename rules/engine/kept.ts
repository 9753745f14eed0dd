/**
 * What is worked out once about a thing and holds as long as the thing does. Nothing kept is ever another answer than a fresh one.
 * @param most  names kept for one thing; beyond that everything of it is forgotten and worked out again
 */
export function keptFor<K extends object, V>(most = Number.POSITIVE_INFINITY): (of: K, name: string, make: () => V) => V {
  const all = new WeakMap<K, Map<string, V>>();
  return (of, name, make) => {
    let mine = all.get(of);
    if (!mine) {
      mine = new Map();
      all.set(of, mine);
    }
    let had = mine.get(name);
    if (had === undefined) {
      had = make();
      if (mine.size >= most) mine.clear();
      mine.set(name, had);
    }
    return had;
  };
}
