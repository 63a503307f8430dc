/* SPDX-License-Identifier: MIT */
#include "mesh/system.h"

#include "config.h"

#include <errno.h>
#include <sys/stat.h>

#if defined(_WIN32)

#include <fcntl.h>
#include <io.h>
#include <wchar.h>
#include <windows.h>

enum { LONGEST = 32768 }; /* path that Windows takes */

/* false, and errno is set: no UTF-8, or too long. */
static bool widen(const char *path, wchar_t wide[LONGEST])
{
    if (MultiByteToWideChar(CP_UTF8, MB_ERR_INVALID_CHARS, path, -1, wide, LONGEST) > 0)
        return true;
    errno = GetLastError() == ERROR_INSUFFICIENT_BUFFER ? ENAMETOOLONG : EILSEQ;
    return false;
}

FILE *vugi_system_read(const char *path)
{
    wchar_t wide[LONGEST];
    return widen(path, wide) ? _wfopen(wide, L"rb") : NULL;
}

FILE *vugi_system_write(const char *path)
{
    wchar_t wide[LONGEST];
    return widen(path, wide) ? _wfopen(wide, L"wb") : NULL;
}

FILE *vugi_system_create(const char *path)
{
    wchar_t wide[LONGEST];
    if (!widen(path, wide))
        return NULL;
    int file = _wopen(wide, _O_WRONLY | _O_CREAT | _O_EXCL | _O_BINARY, _S_IREAD | _S_IWRITE);
    FILE *stream = file < 0 ? NULL : _fdopen(file, "wb");
    if (file >= 0 && !stream) {
        int why = errno;
        _close(file);
        _wremove(wide);
        errno = why;
    }
    return stream;
}

bool vugi_system_rename(const char *from, const char *to)
{
    wchar_t wide_from[LONGEST], wide_to[LONGEST];
    if (!widen(from, wide_from) || !widen(to, wide_to))
        return false;
    if (MoveFileExW(wide_from, wide_to, MOVEFILE_REPLACE_EXISTING))
        return true;
    DWORD error = GetLastError();
    errno = error == ERROR_ACCESS_DENIED || error == ERROR_SHARING_VIOLATION ? EACCES : EIO;
    return false;
}

void vugi_system_remove(const char *path)
{
    wchar_t wide[LONGEST];
    if (widen(path, wide))
        _wremove(wide);
}

bool vugi_system_device(const char *path)
{
    wchar_t wide[LONGEST];
    struct _stat64 info;
    return widen(path, wide) && _wstat64(wide, &info) == 0 && !S_ISREG(info.st_mode)
        && !S_ISDIR(info.st_mode);
}

#else

FILE *vugi_system_read(const char *path)
{
    return fopen(path, "rb");
}

FILE *vugi_system_write(const char *path)
{
    return fopen(path, "wb");
}

FILE *vugi_system_create(const char *path)
{
    return fopen(path, "wbx");
}

bool vugi_system_rename(const char *from, const char *to)
{
    return rename(from, to) == 0;
}

void vugi_system_remove(const char *path)
{
    remove(path);
}

bool vugi_system_device(const char *path)
{
    struct stat info;
    return stat(path, &info) == 0 && !S_ISREG(info.st_mode) && !S_ISDIR(info.st_mode);
}

#endif
