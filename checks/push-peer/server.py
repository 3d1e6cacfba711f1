"""A receiver that checks what docs/topics.md promises, with nothing but Python's standard library.

It serves HTTPS, checks the signature of each message by hmac, knows duplicates by their message key, and answers:

401   no signature of the key it knows, or older than five minutes
409   never: a duplicate is answered like the first
200   taken, with JSON that says what it made of the message

Prints its port as the first line, then one JSON object a line for each request.
Usage: server.py CERT KEY KEY-ID SECRET NOW
"""

import hashlib
import hmac
import http.server
import json
import ssl
import sys

cert, key, key_id, secret, now = sys.argv[1:6]
seen = {}


def check(headers, body):
    sent_at = headers.get("Earthbell-Sent-At", "")
    message_key = headers.get("Earthbell-Message-Key", "")
    signed = sent_at.encode() + b"." + message_key.encode() + b"." + body
    wanted = hmac.new(secret.encode(), signed, hashlib.sha256).hexdigest()
    given = dict(part.strip().split("=", 1) for part in headers.get("Earthbell-Signature", "").split(",") if "=" in part)
    return hmac.compare_digest(given.get(key_id, ""), wanted) and abs(int(now) - int(sent_at)) <= 300


class Receiver(http.server.BaseHTTPRequestHandler):
    def do_POST(self):
        body = self.rfile.read(int(self.headers["Content-Length"]))
        good = check(self.headers, body)
        record = json.loads(body)
        message_key = self.headers.get("Earthbell-Message-Key")
        again = message_key in seen
        seen[message_key] = True
        said = {
            "good": good,
            "again": again,
            "host": self.headers["Host"],
            "keyMatches": message_key == hashlib.sha256(record.get("key", "").encode()).hexdigest(),
            "record": record,
        }
        print(json.dumps(said), flush=True)
        self.send_response(200 if good else 401)
        self.end_headers()

    def log_message(self, *args):
        pass


server = http.server.ThreadingHTTPServer(("127.0.0.1", 0), Receiver)
context = ssl.SSLContext(ssl.PROTOCOL_TLS_SERVER)
context.load_cert_chain(cert, key)
server.socket = context.wrap_socket(server.socket, server_side=True)
print(server.server_address[1], flush=True)
server.serve_forever()
