// In a browser that keeps nothing, or at an address that is not secure, the page works as ever, with a network.
navigator.serviceWorker?.register('./service-worker.js').catch((error) => console.warn(error));
