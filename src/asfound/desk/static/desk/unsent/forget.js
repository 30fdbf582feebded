"use strict";
// Where somebody signs in, no page of whoever was here before stays on the device. What waits to be
// sent does: it belongs to an account and is shown to no other.
if ("caches" in window) caches.keys().then((names) => names.forEach((name) => caches.delete(name)));
