import { startTransition, StrictMode } from "react";
import { createRoot } from "react-dom/client";
import "./look/tokens.css";
import "./look/typefaces.css";
import "./look/type.css";
import "./look/page.css";
import "./look/top.css";
import "./look/states.css";
import "./look/controls.css";
import "./look/drawings.css";
import "./look/roof.css";
import "./look/print.css";
import { currentAddress } from "./address/address.ts";
import { App, fetchPage } from "./app.tsx";
import { prepareOffline } from "./keep/offline.ts";

/** Draws the page, in slices. */
function draw(): void {
  const root = createRoot(document.getElementById("page")!);
  startTransition(() => {
    root.render(
      <StrictMode>
        <App />
      </StrictMode>,
    );
  });
}

// Each in a turn of its own, so that a slow phone hears a press between them.
setTimeout(() => {
  fetchPage(currentAddress());
});
setTimeout(draw);
void prepareOffline();
