"""A local server that speaks S3, with one bucket and keys that open nothing else."""

from contextlib import contextmanager

import boto3
from moto.server import ThreadedMotoServer

BUCKET = "shop-files"
KEYS = {
    "AWS_ACCESS_KEY_ID": "nobody",
    "AWS_SECRET_ACCESS_KEY": "nothing",
    "AWS_DEFAULT_REGION": "us-east-1",
    "AWS_EC2_METADATA_DISABLED": "true",
}


@contextmanager
def object_store(monkeypatch):
    """Serve an empty bucket, and give the environment that leads to it."""
    for name, value in KEYS.items():
        monkeypatch.setenv(name, value)
    server = ThreadedMotoServer(ip_address="127.0.0.1", port=0, verbose=False)
    server.start()
    try:
        host, port = server.get_host_and_port()
        endpoint = f"http://{host}:{port}"
        client = boto3.client("s3", endpoint_url=endpoint)
        client.create_bucket(Bucket=BUCKET)
        yield {"SHOPQA_S3_BUCKET": BUCKET, "SHOPQA_S3_ENDPOINT": endpoint, **KEYS}
        client.close()
    finally:
        server.stop()
