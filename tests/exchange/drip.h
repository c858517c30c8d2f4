/* A stream that gives a few bytes at a time, so that every joint of a reader
 * falls between two blocks. */
#pragma once

#include <gio/gio.h>

typedef struct {
  GInputStream parent_instance;
  GBytes *bytes; /* (owned) */
  gsize at;
  gsize most;    /* bytes at once */
} Drip;

typedef GInputStreamClass DripClass;

GType drip_get_type (void);
G_DEFINE_TYPE (Drip, drip, G_TYPE_INPUT_STREAM)

static gssize
drip_read (GInputStream *stream, void *buffer, gsize count, GCancellable *cancellable, GError **error)
{
  Drip *self = (Drip *) stream;
  gsize size;
  const char *data = g_bytes_get_data (self->bytes, &size);
  gsize length = MIN (MIN (count, self->most), size - self->at);

  if (length > 0)
    memcpy (buffer, data + self->at, length);
  self->at += length;
  return length;
}

static void
drip_finalize (GObject *object)
{
  g_bytes_unref (((Drip *) object)->bytes);
  G_OBJECT_CLASS (drip_parent_class)->finalize (object);
}

static void
drip_class_init (DripClass *klass)
{
  G_OBJECT_CLASS (klass)->finalize = drip_finalize;
  klass->read_fn = drip_read;
}

static void
drip_init (Drip *self)
{
}

static inline GInputStream *
open_drip (const char *data, gsize size, gsize most)
{
  Drip *self = g_object_new (drip_get_type (), NULL);

  self->bytes = g_bytes_new (data, size);
  self->most = most;
  return G_INPUT_STREAM (self);
}
