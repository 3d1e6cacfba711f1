"""Reads messages as JSON lines of base64 on standard input and prints what Python's own mail parser finds in them."""

import base64
import email
import email.policy
import json
import sys

for line in sys.stdin:
    message = email.message_from_bytes(base64.b64decode(json.loads(line)), policy=email.policy.default)
    headers = [[name, str(value)] for name, value in message.items()]
    bodies = {part.get_content_type(): part.get_content().replace("\r\n", "\n") for part in message.walk() if not part.is_multipart()}
    print(
        json.dumps(
            {
                "headers": headers,
                "type": message.get_content_type(),
                "bodies": bodies,
                "defects": [str(defect) for part in message.walk() for defect in part.defects],
            }
        ),
        flush=True,
    )
