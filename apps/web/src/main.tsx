import { startTransition, StrictMode } from "react";
import { createRoot } from "react-dom/client";
import "./look/tokens.css";
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

fetchPage(currentAddress());
const root = createRoot(document.getElementById("page")!);
// In slices, so that a press is heard meanwhile.
startTransition(() => {
  root.render(
    <StrictMode>
      <App />
    </StrictMode>,
  );
});
void prepareOffline();
