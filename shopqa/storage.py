"""Where photos and papers are kept: a folder, or an S3-compatible store."""

from collections.abc import Mapping
from pathlib import Path
from typing import Any


def file_storage(data: Path, given: Mapping[str, str]) -> dict[str, Any]:
    """Give the store that the environment names; a folder beside the book if none.

    `SHOPQA_S3_BUCKET` names a bucket, `SHOPQA_S3_ENDPOINT` its server where it is
    not Amazon's; key and region are read by boto3 from its own `AWS_` variables.
    `SHOPQA_FILES` names another folder, such as one shared by several machines.
    """
    bucket = given.get("SHOPQA_S3_BUCKET")
    if not bucket:
        return {
            "BACKEND": "django.core.files.storage.FileSystemStorage",
            "OPTIONS": {"location": Path(given.get("SHOPQA_FILES") or data / "files")},
        }
    return {
        "BACKEND": "storages.backends.s3.S3Storage",
        "OPTIONS": {
            "bucket_name": bucket,
            "endpoint_url": given.get("SHOPQA_S3_ENDPOINT") or None,
            "default_acl": "private",
            "file_overwrite": True,  # a file lies under its digest: the same bytes
        },
    }
