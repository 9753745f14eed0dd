/**
 * What a sentence asks somebody to do with the power, found in its words alone: the other witness beside what a check says it touches.
 * A question about what was, a thing forbidden and "before it runs" ask for nothing.
 */
interface Tongue {
  /** Sentences that only ask what is or was. */
  asks: RegExp;
  /** Sentences that forbid, or say what to do if. */
  forbids: RegExp;
  /** Clauses of a sentence that ask for nothing. */
  aside: RegExp;
  /** Giving power, or using it. */
  power: RegExp;
  /** Something that only power makes to be seen, in a question too. */
  seen: RegExp;
}
const TONGUES: Record<string, Tongue> = {
  en: {
    asks: /^(and |or |then )?(what|when|how|which|where|do|does|did|is|are|was|were|has|have|can|will|if it)\b.*\?$|\b(did|was|were|had|last time|so far|already)\b.*\?$|^find out\b/i,
    forbids:
      /^(please )?(do not|never|no|not|nothing|keep|leave|there is no need|skip|just (look|tell)|only look|look only|if it)\b|\bdoes not (try|need)\b/i,
    aside:
      /\b(before|until|till) [^,.;:?]*|\bonly if [^.;:?]*|\brun(s|ning)? (through|out|water|marks?)\b|\b(duct|each) run\b|\brun (zones|winding)\b/gi,
    power:
      /\b(run|runs|running)\b|\b(press|push|hit) start\b|\bstart (it|a cycle)\b|\btries to start\b|\bdry (one|half|a|your|the next)\b|\bplug(ged)? in\b|\boff\b[^.?]*\b(then|and|push it)( fully)? on\b(?! (the|one|a)\b)|\b(turn|switch|push) (it|the breaker|the dryer breaker|the power) on\b|\bturned on again\b|\bturn the breaker on again\b|\bpower back on\b|\bpress reset\b|\blive (reading|outlet)\b|\boutlet is live\b|\bheater? on\b/i,
    seen: /\bdrum lamp\b[^.?]*\b(changes?|on and off)\b/i,
  },
  es: {
    asks: /^¿?(y |o |entonces )?(qué|cuándo|cómo|cuál|dónde|cuánto|es|está|están|hay|ha|han|hizo|tiene|se|le|el|la|los|las|su|sus|alguien|va|suena|desde|en)\b[^:]*\?$|\bla última vez\b|^averigüe\b/i,
    forbids: /^(por favor,? )?(no|nunca|nadie|nada|sin|solo mire|si (se|parece|el tambor))\b|\bno la prueba\b/i,
    aside: /\b(antes de|hasta que) [^,.;:?]*/gi,
    power:
      /\b(p[oó]ngala|la ponga|hágala trabajar|préndala|arránquela|súbalo|lo suba)\b|\bponga un ciclo\b|\ben marcha\b|\ben solo aire\b|\bcon el calor puesto, mire\b|\bmire\b[^.]*\bcon el calor puesto\b|\bpruebe calor\b|\bmientras trabaja\b|\bapriete arranque\b|\bseque (una|media|su|la)\b|\b(prenda|prender|suba) el breaker\b|\benchufada\b|\bmedir (un tomacorriente )?con corriente\b/i,
    seen: /\bluz del tambor\b[^.?]*\bse prende\b/i,
  },
};

const sentences = (text: string): string[] => text.split(/(?<=[.?!;])\s+/).filter(Boolean);

/** The words by which a text asks for power; none = it asks for nothing of the kind. */
export function powerSaid(text: string, language: string): string[] {
  const { asks, forbids, aside, power, seen } = TONGUES[language]!;
  return sentences(text).flatMap((one) => {
    const found = seen.exec(one) ?? (asks.test(one) || forbids.test(one) ? undefined : power.exec(one.replace(aside, ' ')));
    return found ? [`${found[0]} | ${one}`] : [];
  });
}
