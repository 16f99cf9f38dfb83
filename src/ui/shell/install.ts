// Installing the page as an app, which makes what it keeps safer: some browsers let the page offer it (W3C Web App Manifest's
// incubations, `beforeinstallprompt`); in the others it is done from their own menu.
import { type Signal, signal } from "@preact/signals";

/** Asks the browser to install the page; absent where it can't be asked, or has done it. */
export const install: Signal<(() => Promise<void>) | undefined> = signal(undefined);

/** Listens for the browser's offer. */
export function watchForInstall(): void {
  window.addEventListener("beforeinstallprompt", (event) => {
    // The page offers it beside what it says of keeping.
    event.preventDefault();
    install.value = async () => {
      install.value = undefined;
      await (event as Event & { prompt(): Promise<unknown> }).prompt();
    };
  });
  window.addEventListener("appinstalled", () => {
    install.value = undefined;
  });
}
