"""A browser's part in a fault: signs in, sends forms, and knows what was answered."""

import http.client
import re
import uuid
from http.cookies import SimpleCookie
from urllib.parse import urlencode

from tests.credentials import PASSWORD

TOKEN = re.compile(r'name="csrfmiddlewaretoken" value="([^"]+)"')
ADD = "/lots/suppliers/add/"
FORM = "application/x-www-form-urlencoded"


class Client:
    """One person at one browser."""

    def __init__(self, port):
        self.port = port
        self.cookies = {}
        self.token = ""

    def sign_in(self, login):
        self.token = TOKEN.search(self.get("/sign-in/")[1]).group(1)
        status, _ = self.post("/sign-in/", login=login, password=PASSWORD)
        assert status == 302, f"{login} could not sign in: {status}"
        self.token = TOKEN.search(self.get(ADD)[1]).group(1)
        return self

    def get(self, path):
        return self.send("GET", path)

    def post(self, path, **fields):
        body = urlencode({"csrfmiddlewaretoken": self.token, **fields})
        return self.send("POST", path, body, FORM)

    def add_supplier(self, name, form_key=None):
        """Send one form; give the status, or 0 where no answer came."""
        fields = {"name": name, "form_key": form_key or str(uuid.uuid4())}
        try:
            status, _ = self.post(ADD, **fields)
        except (OSError, http.client.HTTPException):
            return 0
        return status

    def send(self, method, path, body=None, kind=None):
        link = http.client.HTTPConnection("127.0.0.1", self.port, timeout=60)
        headers = {"Cookie": "; ".join(f"{k}={v}" for k, v in self.cookies.items())}
        if kind:
            headers["Content-Type"] = kind
        try:
            link.request(method, path, body, headers)
            answer = link.getresponse()
            page = answer.read().decode(errors="replace")
        finally:
            link.close()
        for line in answer.headers.get_all("Set-Cookie", []):
            for name, cookie in SimpleCookie(line).items():
                self.cookies[name] = cookie.value
        return answer.status, page
