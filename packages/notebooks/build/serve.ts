// The second half of `npm start`: the notebooks, served to this machine until Ctrl-C.
import { createServer, type ViteDevServer } from "vite";
import { baseConfig } from "./config.ts";
import { guard } from "./guard.ts";
import { openBrowser } from "./open-browser.ts";
import type { StartOptions } from "./options.ts";

/** Starts the development server; gives it and its address. Throws where the port that was asked for is taken. */
export async function startServer(options: Pick<StartOptions, "port" | "strictPort">, pages?: string) {
  const common = baseConfig(pages);
  const server: ViteDevServer = await createServer({
    ...common,
    mode: "development",
    logLevel: "warn",
    clearScreen: false,
    plugins: [guard(), ...(common.plugins ?? [])],
    server: {
      ...common.server,
      host: "127.0.0.1",
      port: options.port,
      strictPort: options.strictPort,
      cors: false,
      allowedHosts: [],
      open: false,
    },
  });
  await server.listen();
  const found = server.httpServer?.address();
  const port = typeof found === "object" && found ? found.port : options.port;
  return { server, address: `http://127.0.0.1:${port}/` };
}

/** Serves the notebooks until a signal ends them; ends the process with status 1 where no server can be started. */
export async function serve(options: StartOptions): Promise<void> {
  try {
    const { server, address } = await startServer(options);
    endOnSignal(() => server.close());
    console.log(`Notebooks: ${address}   (Ctrl-C ends)`);
    if (options.open) openBrowser(address);
  } catch (error) {
    console.error(`The notebooks cannot be served: ${(error as Error).message}`);
    // Not by waiting: what was started for the server would keep the process alive for a while.
    process.exit(1);
  }
}

function endOnSignal(close: () => Promise<void>): void {
  const signals = ["SIGINT", "SIGTERM", "SIGHUP"] as const;
  const end = (): void => {
    // A second Ctrl-C means now.
    for (const name of signals) process.on(name, () => process.exit(130));
    void close().finally(() => process.exit(0));
  };
  for (const name of signals) process.once(name, end);
}
