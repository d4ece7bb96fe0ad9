/* Loaded before everything else (LD_PRELOAD): logs what a program writes to the database files below DISK_ROOT, when it
 * syncs them and when it acknowledges, so that every moment can be cut off from power afterwards; and makes one call fail.
 * Log record: op, number, offset, length (all int64, little-endian), name length (int64), name, data.
 */
#define _GNU_SOURCE
#include <dlfcn.h>
#include <errno.h>
#include <fcntl.h>
#include <pthread.h>
#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/syscall.h>
#include <unistd.h>

enum { WRITE = 1, CUT = 2, SYNC = 3, ACK = 4, GONE = 5 };

static pthread_mutex_t lock = PTHREAD_MUTEX_INITIALIZER;
static int log_fd = -2;
static int fail_at;
static int fail_with;
static int failed;
static int full;

static void put(const void *bytes, size_t count) {
  const char *from = bytes;
  while (count > 0) {
    long written = syscall(SYS_write, log_fd, from, count);
    if (written <= 0)
      abort();
    from += written;
    count -= (size_t)written;
  }
}

static void note(int64_t op, int64_t number, int64_t offset, const char *name, const void *data, int64_t length) {
  if (log_fd == -2) {
    const char *path = getenv("DISK_LOG");
    log_fd = path ? open(path, O_CREAT | O_WRONLY | O_APPEND | O_CLOEXEC, 0600) : -1;
  }
  if (log_fd < 0)
    return;
  int64_t head[5] = {op, number, offset, length, (int64_t)strlen(name)};
  put(head, sizeof head);
  put(name, strlen(name));
  if (data)
    put(data, (size_t)length);
}

/* The file's name below DISK_ROOT, or NULL: none of our database's. */
static const char *ours(int fd, char *path) {
  static const char *root;
  if (!root && !(root = getenv("DISK_ROOT")))
    return NULL;
  char link[64];
  snprintf(link, sizeof link, "/proc/self/fd/%d", fd);
  long length = readlink(link, path, 4095);
  if (length <= 0)
    return NULL;
  path[length] = 0;
  size_t start = strlen(root);
  if (strncmp(path, root, start) != 0 || path[start] != '/' || !strstr(path + start, ".db"))
    return NULL;
  return path + start + 1;
}

static int fails(void) {
  if (fail_at == 0 || --fail_at > 0)
    return 0;
  failed = 1;
  return 1;
}

/* A full disk takes no byte and no longer file, and syncs what it has. */
static int refuses(void) {
  if (!full)
    return fails();
  fail_with = ENOSPC;
  return 1;
}

#define NEXT(type, name) \
  static type next; \
  if (!next) \
    next = (type)dlsym(RTLD_NEXT, name);

typedef ssize_t (*pwrite_t)(int, const void *, size_t, off_t);
typedef ssize_t (*write_t)(int, const void *, size_t);
typedef int (*cut_t)(int, off_t);
typedef int (*sync_t)(int);
typedef int (*unlink_t)(const char *);

static ssize_t written(pwrite_t next, int fd, const void *data, size_t count, off_t offset) {
  char path[4096];
  const char *name = ours(fd, path);
  if (!name)
    return next(fd, data, count, offset);
  pthread_mutex_lock(&lock);
  ssize_t done = -1;
  if (refuses())
    errno = fail_with;
  else if ((done = next(fd, data, count, offset)) > 0)
    note(WRITE, 0, offset, name, data, done);
  int error = errno;
  pthread_mutex_unlock(&lock);
  errno = error;
  return done;
}

ssize_t pwrite(int fd, const void *data, size_t count, off_t offset) {
  NEXT(pwrite_t, "pwrite")
  return written(next, fd, data, count, offset);
}

ssize_t pwrite64(int fd, const void *data, size_t count, off_t offset) {
  NEXT(pwrite_t, "pwrite64")
  return written(next, fd, data, count, offset);
}

ssize_t write(int fd, const void *data, size_t count) {
  NEXT(write_t, "write")
  char path[4096];
  const char *name = ours(fd, path);
  if (!name)
    return next(fd, data, count);
  pthread_mutex_lock(&lock);
  off_t offset = lseek(fd, 0, SEEK_CUR);
  ssize_t done = -1;
  if (refuses())
    errno = fail_with;
  else if ((done = next(fd, data, count)) > 0)
    note(WRITE, 0, offset, name, data, done);
  int error = errno;
  pthread_mutex_unlock(&lock);
  errno = error;
  return done;
}

static int cut(cut_t next, int fd, off_t length) {
  char path[4096];
  const char *name = ours(fd, path);
  if (!name)
    return next(fd, length);
  pthread_mutex_lock(&lock);
  int done = -1;
  if (refuses())
    errno = fail_with;
  else if ((done = next(fd, length)) == 0)
    note(CUT, 0, length, name, NULL, 0);
  int error = errno;
  pthread_mutex_unlock(&lock);
  errno = error;
  return done;
}

int ftruncate(int fd, off_t length) {
  NEXT(cut_t, "ftruncate")
  return cut(next, fd, length);
}

int ftruncate64(int fd, off_t length) {
  NEXT(cut_t, "ftruncate64")
  return cut(next, fd, length);
}

static int synced(sync_t next, int fd) {
  char path[4096];
  const char *name = ours(fd, path);
  if (!name)
    return next(fd);
  pthread_mutex_lock(&lock);
  int done = -1;
  if (fails())
    errno = fail_with;
  else if ((done = next(fd)) == 0)
    note(SYNC, 0, 0, name, NULL, 0);
  int error = errno;
  pthread_mutex_unlock(&lock);
  errno = error;
  return done;
}

int fsync(int fd) {
  NEXT(sync_t, "fsync")
  return synced(next, fd);
}

int fdatasync(int fd) {
  NEXT(sync_t, "fdatasync")
  return synced(next, fd);
}

int unlink(const char *path) {
  NEXT(unlink_t, "unlink")
  const char *root = getenv("DISK_ROOT");
  size_t start = root ? strlen(root) : 0;
  if (!root || strncmp(path, root, start) != 0 || path[start] != '/' || !strstr(path + start, ".db"))
    return next(path);
  pthread_mutex_lock(&lock);
  int done = next(path);
  if (done == 0)
    note(GONE, 0, 0, path + start + 1, NULL, 0);
  int error = errno;
  pthread_mutex_unlock(&lock);
  errno = error;
  return done;
}

void disk_acked(int number) {
  pthread_mutex_lock(&lock);
  note(ACK, number, 0, "", NULL, 0);
  pthread_mutex_unlock(&lock);
}

void disk_fail_at(int call, int error) {
  pthread_mutex_lock(&lock);
  fail_at = call;
  fail_with = error;
  failed = 0;
  pthread_mutex_unlock(&lock);
}

void disk_full(int is) {
  pthread_mutex_lock(&lock);
  full = is;
  pthread_mutex_unlock(&lock);
}

int disk_has_failed(void) { return failed; }
