/* Inputs for the readers' tests: streams from bytes, and spoilt copies. */
#pragma once

#include <gio/gio.h>
#include <string.h>

#define MUTATIONS 200

static inline GInputStream *
open_bytes (const char *data, gsize size)
{
  return g_memory_input_stream_new_from_data (g_memdup2 (data, size), size, g_free);
}

/* Cuts, repeats, overwrites or fills in a stretch of a few bytes, one to four
 * times, the same for the same @seed. */
static inline GByteArray *
mutate (const char *data, gsize size, guint32 seed)
{
  static const char marks[] = "\"\"\",\n\r\0<>&;[]{}/\\:0-9e.\xFF\xC3";
  GByteArray *bytes = g_byte_array_new ();
  GRand *rand = g_rand_new_with_seed (seed);
  int n = g_rand_int_range (rand, 1, 5);

  g_byte_array_append (bytes, (const guint8 *) data, size);
  while (n-- > 0 && bytes->len > 1)
    {
      guint at = g_rand_int_range (rand, 0, bytes->len);
      guint length = g_rand_int_range (rand, 1, MIN (16, bytes->len - at) + 1);

      switch (g_rand_int_range (rand, 0, 5))
        {
        case 0:
          g_byte_array_remove_range (bytes, at, length);
          break;
        case 1:
          {
            g_autofree guint8 *copy = g_memdup2 (bytes->data + at, length);
            g_byte_array_append (bytes, copy, length);
          }
          break;
        case 2:
          bytes->data[at] = g_rand_int (rand) & 0xFF;
          break;
        case 3:
          bytes->data[at] = marks[g_rand_int_range (rand, 0, sizeof marks - 1)];
          break;
        default:
          if (g_rand_int_range (rand, 0, 4) == 0)
            g_byte_array_set_size (bytes, at);
          else
            memset (bytes->data + at, '9', length);
          break;
        }
    }
  g_rand_free (rand);
  return bytes;
}
