/** The little of it that is used here; the package brings no types. */
declare module 'autocannon' {
  namespace autocannon {
    interface Request {
      method: string;
      path: string;
      headers?: Record<string, string>;
      body?: string;
    }
    interface Options {
      url: string;
      connections: number;
      /** Requests in all. */
      amount: number;
      /** In seconds. */
      timeout: number;
      requests: Request[];
    }
    interface Result {
      errors: number;
      timeouts: number;
      non2xx: number;
      requests: { average: number; total: number };
      latency: { p50: number; p99: number; max: number };
    }
  }
  function autocannon(options: autocannon.Options): Promise<autocannon.Result>;
  export default autocannon;
}
