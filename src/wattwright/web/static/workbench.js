// What the pages can do beyond plain forms: save without leaving the page, keep what was typed when
// the network is lost, and show what others change. Every form works without this script too.

import { openFromDrawings } from "./drawings.js";
import { listen } from "./listening.js";
import { lookAgain } from "./refreshing.js";
import { saveInPlace } from "./saving.js";
import { helpWithTables } from "./tables.js";
import { watchOver } from "./waiting.js";

saveInPlace();
watchOver();
listen();
helpWithTables();
openFromDrawings();
if (document.querySelector("[data-working]")) lookAgain();
